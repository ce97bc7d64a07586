import ICAL from 'ical.js';
import { describe, expect, test } from 'vitest';
import { type CalendarEvent, writeCalendar } from '../../../electron/files/course-calendar.ts';

const hour = 3_600_000;

/** Every event as ical.js, which knows nothing of us, reads it: by the zone rules in the file alone. */
function readBack(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  const rules = calendar.getFirstSubcomponent('vtimezone');
  const zone = rules ? new ICAL.Timezone(rules) : ICAL.Timezone.utcTimezone;
  return {
    zone: zone.tzid,
    events: calendar.getAllSubcomponents('vevent').map((part) => {
      const event = new ICAL.Event(part);
      const at = (time: InstanceType<typeof ICAL.Time>) => {
        const local = time.clone();
        local.zone = zone;
        return local.toUnixTime() * 1000;
      };
      const stamp = part.getFirstPropertyValue('dtstamp') as InstanceType<typeof ICAL.Time>;
      return {
        uid: event.uid,
        tzid: part.getFirstProperty('dtstart')?.getParameter('tzid'),
        hour: event.startDate.hour,
        startAt: at(event.startDate),
        endAt: at(event.endDate),
        summary: event.summary,
        description: event.description,
        transparency: part.getFirstPropertyValue('transp'),
        stampZone: stamp.zone.tzid,
      };
    }),
  };
}

const event = (uid: string, startAt: number, hours: number, more: Partial<CalendarEvent> = {}): CalendarEvent => ({
  uid,
  startAt,
  endAt: startAt + hours * hour,
  summary: uid,
  description: '',
  busy: true,
  ...more,
});

describe('a calendar (RFC 5545) read back by ical.js', () => {
  // The last Sundays of March and October in Europe; the second of March in America; Lord Howe by half an hour; never in Kolkata.
  test.each([
    ['Europe/London', '2026-10-22T08:00:00Z'],
    ['Europe/London', '2026-03-26T09:00:00Z'],
    ['America/New_York', '2026-03-05T14:00:00Z'],
    ['Australia/Lord_Howe', '2026-10-01T22:00:00Z'],
    ['Asia/Kolkata', '2026-10-22T04:00:00Z'],
    ['UTC', '2026-10-22T04:00:00Z'],
  ])('has every instant right over a week in %s from %s, a change of the clocks included', (zone, first) => {
    const from = Date.parse(first);
    const events = Array.from({ length: 14 }, (_, half) => event(`step ${half}`, from + half * 12 * hour, 13));
    const back = readBack(writeCalendar('A week', zone, events, from));
    expect(back.zone).toBe(zone);
    expect(back.events.map(({ uid, startAt, endAt }) => ({ uid, startAt, endAt }))).toEqual(
      events.map(({ uid, startAt, endAt }) => ({ uid, startAt, endAt })),
    );
    for (const { tzid, stampZone } of back.events) expect([tzid ?? 'UTC', stampZone]).toEqual([zone, 'UTC']);
    // The wall clock is the zone's own by another reckoning, ICU's.
    const clock = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', hourCycle: 'h23' });
    expect(back.events.map(({ hour }) => hour)).toEqual(events.map(({ startAt }) => Number(clock.format(startAt))));
  });

  test('carries commas, semicolons, line ends, long lines and other scripts whole, and says what takes no time', () => {
    const summary = `Recase, “Hymns; 1871”\\ ${'лист и кожа '.repeat(20)}`.trim();
    const events = [event('a', 0, 1, { summary, description: 'Mind the blade.\nFollow local rules.', busy: false })];
    const text = writeCalendar('Glue, paste; paper', 'UTC', events, 0);
    for (const line of text.split('\r\n')) expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    const back = readBack(text);
    expect(text).toContain('\r\nNAME:Glue\\, paste\\; paper\r\n');
    expect(back.events).toMatchObject([
      { summary, description: 'Mind the blade.\nFollow local rules.', transparency: 'TRANSPARENT', startAt: 0 },
    ]);
  });
});
