/**
 * A course's week as iCalendar (RFC 5545): for one person, one tutor, or the whole. Times are local to the workshop with its TZID, and the
 * zone's own changes of the clocks stand in the file (VTIMEZONE, RFC 5545 §3.6.5), so that a calendar that does not know the zone is right too.
 */
import icalendar, {
  escape as escapeText,
  ICalCalendarMethod,
  ICalEventBusyStatus,
  ICalEventTransparency,
} from 'ical-generator';
import { Temporal } from 'temporal-polyfill';
import { ZipFile } from 'yazl';

export type CalendarEvent = Readonly<{
  /** The same whenever the week is laid out anew, so that a calendar moves the event rather than doubling it. */
  uid: string;
  startAt: number;
  endAt: number;
  summary: string;
  description: string;
  /** Takes somebody's time; drying and pressing do not. */
  busy: boolean;
}>;

/** CRLF lines folded at 75 octets, as the standard asks. `madeAt` dates the calendar. */
export function writeCalendar(
  name: string,
  timeZone: string,
  events: readonly CalendarEvent[],
  madeAt: number,
): string {
  const calendar = icalendar({
    // Unlike every other text, the library writes this one as it is.
    name: escapeText(name, false),
    method: ICalCalendarMethod.PUBLISH,
    prodId: { company: 'Kettlestitch', product: 'Course', language: 'EN' },
    // Events carry the zone; on the calendar itself it would make local time of DTSTAMP, which must be UTC (RFC 5545 §3.8.7.2).
    timezone: { name: null, generator: () => zoneRules(timeZone, events) },
  });
  for (const event of events) {
    calendar.createEvent({
      id: event.uid,
      start: Temporal.Instant.fromEpochMilliseconds(event.startAt),
      end: Temporal.Instant.fromEpochMilliseconds(event.endAt),
      stamp: new Date(madeAt),
      summary: event.summary,
      description: event.description,
      busystatus: event.busy ? ICalEventBusyStatus.BUSY : ICalEventBusyStatus.FREE,
      transparency: event.busy ? ICalEventTransparency.OPAQUE : ICalEventTransparency.TRANSPARENT,
      // UTC has a form of its own and no rules (RFC 5545 §3.3.5, form 2).
      timezone: timeZone === 'UTC' ? null : timeZone,
    });
  }
  return calendar.toString();
}

/** Several calendars in one zip. */
export async function zipCalendars(
  files: readonly Readonly<{ name: string; text: string }>[],
  madeAt: number,
): Promise<Uint8Array> {
  const zip = new ZipFile();
  for (const { name, text } of files) zip.addBuffer(Buffer.from(text), name, { mtime: new Date(madeAt) });
  zip.end();
  const chunks: Buffer[] = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

const dayMs = 86_400_000;

/** The zone's offset from before the first event on, and each change of it until after the last, one observance each. */
function zoneRules(timeZone: string, events: readonly CalendarEvent[]): string {
  const from = Math.min(...events.map(({ startAt }) => startAt)) - dayMs;
  const to = Math.max(...events.map(({ endAt }) => endAt)) + dayMs;
  const at = (ms: number) => Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(timeZone);
  const start = Number.isFinite(from) ? at(from) : at(0);
  // In summer the clocks stand ahead of what they are in winter: the least offset of the year is the standard one.
  const offsets = [1, 4, 7, 10].map((month) => start.with({ month, day: 1 }).offsetNanoseconds);
  const standard = Math.min(...offsets);
  const lines = ['BEGIN:VTIMEZONE', `TZID:${timeZone}`];
  const observe = (local: Temporal.PlainDateTime, before: string, after: string, isStandard: boolean) => {
    const kind = isStandard ? 'STANDARD' : 'DAYLIGHT';
    lines.push(
      `BEGIN:${kind}`,
      `DTSTART:${local.toString({ smallestUnit: 'second' }).replace(/[-:]/g, '')}`,
      `TZOFFSETFROM:${before.replace(':', '')}`,
      `TZOFFSETTO:${after.replace(':', '')}`,
      `END:${kind}`,
    );
  };
  observe(start.startOfDay().toPlainDateTime(), start.offset, start.offset, start.offsetNanoseconds === standard);
  let before = start;
  for (;;) {
    const change = before.getTimeZoneTransition('next');
    if (change === null || change.epochMilliseconds > to) break;
    const old = change.subtract({ nanoseconds: 1 });
    // DTSTART is the wall clock's time by the offset before the change.
    const local = change.toInstant().toZonedDateTimeISO(old.offset).toPlainDateTime();
    observe(local, old.offset, change.offset, change.offsetNanoseconds === standard);
    before = change;
  }
  lines.push('END:VTIMEZONE');
  return lines.join('\r\n');
}
