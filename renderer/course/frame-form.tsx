/** When the course is, its hours, who teaches, where they sit, and the money: typed once, kept together. */
import { useState } from 'react';
import type { Course, CourseFrame, CourseLine } from '../../core/contract/course.ts';
import { client, readTrouble } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { Button, LongField, SelectField, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';

type Props = Readonly<{
  course: Course | null;
  /** Courses whose syllabus could be taken over. */
  past: readonly CourseLine[];
  onDone: (course: Course | null) => void;
}>;

type Typed = Readonly<Record<(typeof fields)[number], string>>;
const fields = [
  'title',
  'startsOn',
  'days',
  'hours',
  'tutors',
  'helpers',
  'benches',
  'least',
  'most',
  'spares',
  'fee',
  'fixed',
  'perHead',
  'note',
] as const;

export function FrameForm({ course, past, onDone }: Props) {
  const [typed, setTyped] = useState<Typed>(() => typedOf(course?.frame ?? usual()));
  const [copyOf, setCopyOf] = useState('');
  const [wrong, setWrong] = useState<Readonly<{ field: string; sentence: string }> | null>(null);
  const save = useChange(client.course.save, ({ frame }) => `“${frame.title}” is kept.`);
  const refused = save.error ? readTrouble(save.error) : null;
  const troubleAt = (...names: readonly string[]) =>
    wrong && names.includes(wrong.field)
      ? wrong.sentence
      : refused?.field && names.includes(refused.field.split('.')[0] ?? '')
        ? refused.sentence
        : undefined;
  const bind = (name: keyof Typed) => ({
    value: typed[name],
    onChange: (event: { target: { value: string } }) => setTyped({ ...typed, [name]: event.target.value }),
  });

  /** What is still as it was offered becomes that of the past course, its first day the same weekday a year on. */
  async function takeOver(id: string) {
    setCopyOf(id);
    if (id === '') return;
    const { frame } = await client.course.open({ id });
    const start = new Date(Date.parse(`${frame.startsOn}T00:00:00Z`) + 364 * 86_400_000);
    const theirs = typedOf({ ...frame, startsOn: start.toISOString().slice(0, 10) });
    const offered = typedOf(usual());
    setTyped((now) => ({
      ...now,
      ...Object.fromEntries(
        fields.filter((field) => now[field] === offered[field]).map((field) => [field, theirs[field]]),
      ),
    }));
  }

  function keep() {
    const hours = readHours(typed.hours);
    if (hours === null) {
      setWrong({ field: 'hours', sentence: 'Write sittings as 9:15-12:30, 13:30-17:00.' });
      return;
    }
    setWrong(null);
    save.mutate(
      {
        ...(course ? { id: course.id } : copyOf === '' ? {} : { copyOf }),
        title: typed.title,
        startsOn: typed.startsOn,
        days: whole(typed.days),
        dayHours: hours,
        tutors: whole(typed.tutors),
        helpers: whole(typed.helpers),
        benches: whole(typed.benches),
        copiesEach: [whole(typed.least), whole(typed.most)],
        spares: whole(typed.spares),
        feeMinor: minor(typed.fee),
        fixedCostMinor: minor(typed.fixed),
        perHeadCostMinor: minor(typed.perHead),
        note: typed.note,
      },
      { onSuccess: onDone },
    );
  }

  return (
    <form
      className="course-form"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <div className="fields">
        <TextField name="Title" {...bind('title')} trouble={troubleAt('title')} />
        <TextField name="First day" type="date" {...bind('startsOn')} trouble={troubleAt('startsOn')} />
        <TextField name="Days" inputMode="numeric" {...bind('days')} trouble={troubleAt('days')} />
        <TextField
          name="Hours of a day"
          hint="Breaks are what lies between"
          {...bind('hours')}
          trouble={troubleAt('hours', 'dayHours')}
        />
        <TextField name="Tutors" inputMode="numeric" {...bind('tutors')} trouble={troubleAt('tutors')} />
        <TextField name="Helpers" inputMode="numeric" {...bind('helpers')} trouble={troubleAt('helpers')} />
        <TextField name="Benches" inputMode="numeric" {...bind('benches')} trouble={troubleAt('benches')} />
        <TextField
          name="Copies each, at least"
          inputMode="numeric"
          {...bind('least')}
          trouble={troubleAt('copiesEach')}
        />
        <TextField name="At most" inputMode="numeric" {...bind('most')} />
        <TextField name="Spare copies" inputMode="numeric" {...bind('spares')} trouble={troubleAt('spares')} />
        <TextField name="Fee" inputMode="decimal" {...bind('fee')} trouble={troubleAt('feeMinor')} />
        <TextField name="Fixed costs" inputMode="decimal" {...bind('fixed')} trouble={troubleAt('fixedCostMinor')} />
        <TextField
          name="Costs a person"
          inputMode="decimal"
          {...bind('perHead')}
          trouble={troubleAt('perHeadCostMinor')}
        />
        {course === null && past.length > 0 && (
          <SelectField
            name="Like a past course"
            hint="Its syllabus, programme, hours and prices; not its people. What you have typed stays"
            value={copyOf}
            onChange={(event) => void takeOver(event.target.value)}
            options={[
              { value: '', words: 'none: begin anew' },
              ...past.map((line) => ({ value: line.id, words: `${line.title}, ${line.startsOn}` })),
            ]}
          />
        )}
      </div>
      <LongField name="Note" {...bind('note')} trouble={troubleAt('note')} />
      {refused && refused.field === undefined && <TroubleNotice error={save.error} />}
      <div className="actions">
        <Button type="submit" look="main" disabled={save.isPending}>
          {course ? 'Keep' : 'Plan this course'}
        </Button>
        <Button onClick={() => onDone(course)}>Leave it</Button>
      </div>
    </form>
  );
}

/** Six days of two sittings for six people; common practice, no source. */
function usual(): CourseFrame {
  const start = new Date();
  start.setUTCDate(start.getUTCDate() + 60 + ((8 - ((start.getUTCDay() + 60) % 7)) % 7));
  return {
    title: '',
    startsOn: start.toISOString().slice(0, 10),
    days: 6,
    dayHours: [
      [9 * 60 + 15, 12 * 60 + 30],
      [13 * 60 + 30, 17 * 60],
    ],
    tutors: 1,
    helpers: 0,
    benches: 6,
    feeMinor: 0,
    fixedCostMinor: 0,
    perHeadCostMinor: 0,
    copiesEach: [2, 4],
    spares: 2,
    note: '',
  };
}

function typedOf(frame: CourseFrame): Typed {
  return {
    title: frame.title,
    startsOn: frame.startsOn,
    days: String(frame.days),
    hours: frame.dayHours.map(([from, to]) => `${clock(from)}-${clock(to)}`).join(', '),
    tutors: String(frame.tutors),
    helpers: String(frame.helpers),
    benches: String(frame.benches),
    least: String(frame.copiesEach[0]),
    most: String(frame.copiesEach[1]),
    spares: String(frame.spares),
    fee: (frame.feeMinor / 100).toFixed(2),
    fixed: (frame.fixedCostMinor / 100).toFixed(2),
    perHead: (frame.perHeadCostMinor / 100).toFixed(2),
    note: frame.note,
  };
}

function clock(minutes: number): string {
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
}

/** Sittings as a person writes them, in minutes after midnight; null where they cannot be read. */
function readHours(text: string): [number, number][] | null {
  const sittings = text
    .split(/[,;]/)
    .map((part) => /^\s*(\d{1,2})[:.](\d{2})\s*[-–]\s*(\d{1,2})[:.](\d{2})\s*$/.exec(part));
  const read = sittings.map((match): [number, number] | null =>
    match ? [Number(match[1]) * 60 + Number(match[2]), Number(match[3]) * 60 + Number(match[4])] : null,
  );
  return read.every((one) => one !== null) ? (read as [number, number][]) : null;
}

/** What is no number becomes one the contract refuses in its own words. */
function whole(text: string): number {
  return text.trim() === '' ? -1 : Number(text.replace(',', '.'));
}

function minor(text: string): number {
  const amount = Number(text.trim().replace(',', '.') || 'none');
  return Number.isFinite(amount) ? Math.round(amount * 100) : -1;
}
