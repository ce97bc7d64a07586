/** Every sheet of every room in one place, each with its choices. Sheets that need a drawing or a plan on the page are linked to. */
import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import type { Sheets } from '../../core/contract/archive.ts';
import type { FileAnswer } from '../../core/contract/ask.ts';
import { ask, client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { addressOf } from '../app/route.ts';
import { say } from '../app/say.ts';
import { Button, SelectField, TextField } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { TroubleNotice } from '../parts/notices.tsx';
import { dayWords, shortened } from '../parts/words.ts';
import './archive.css';

export function PrintsPage() {
  const { paper, heading } = useHabits();
  const sheets = useQuery(ask.archive.sheets.queryOptions());
  if (sheets.error !== null) return <TroubleNotice error={sheets.error} again={() => void sheets.refetch()} />;
  if (sheets.data === undefined) return null;
  return (
    <div className="archive">
      <h2>Prints</h2>
      <p>
        Every sheet is a PDF on {paper === 'A4' ? 'A4' : 'Letter'},{' '}
        {heading.trim() === '' ? 'under the workshop’s name' : 'under the workshop’s own heading'}, with its pages
        numbered. Paper and heading are set under <a href={addressOf('workshop')}>How we work</a>.
      </p>
      <Week weeks={sheets.data.weeks} />
      <Book books={sheets.data.books} />
      <Shelf hasSample={sheets.data.hasSample} />
      <Part id="prints-stock" title="The Stockroom">
        <Prints
          sheets={[
            ['Order list', () => client.stockroom.printOrders()],
            ['Count sheet', () => client.stockroom.printCount()],
          ]}
        />
      </Part>
      <Course courses={sheets.data.courses} />
      <Period />
      <Part id="prints-elsewhere" title="Printed where they are drawn">
        <p>
          The cutting sheet is printed in <a href={addressOf('offcuts', 'cut')}>Offcuts</a> from the cuts as planned
          there; a drawing at its own size in the <a href={addressOf('reckoner')}>Reckoner</a>; a survey sheet for books
          you choose on the <a href={addressOf('shelf')}>Shelf</a>.
        </p>
      </Part>
    </div>
  );
}

function Part({ id, title, children }: Readonly<{ id: string; title: string; children: ReactNode }>) {
  return (
    <section className="archive-part" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      {children}
    </section>
  );
}

type Sheet = readonly [name: string, print: () => Promise<FileAnswer>];

/** A button a sheet; what is refused is said below them. */
function Prints({ sheets }: Readonly<{ sheets: readonly Sheet[] }>) {
  const [busy, setBusy] = useState<string | null>(null);
  const [error, setError] = useState<unknown>(null);
  async function take(name: string, print: () => Promise<FileAnswer>): Promise<void> {
    setBusy(name);
    setError(null);
    try {
      const file = await print();
      saveFile(file);
      say(`${file.fileName} is ready.`);
    } catch (thrown) {
      setError(thrown);
    } finally {
      setBusy(null);
    }
  }
  return (
    <>
      <div className="actions">
        {sheets.map(([name, print]) => (
          <Button key={name} disabled={busy !== null} onClick={() => void take(name, print)}>
            {busy === name ? 'Setting it …' : name}
          </Button>
        ))}
      </div>
      {error !== null && <TroubleNotice error={error} />}
    </>
  );
}

/** The choice where it is still there, else the first. */
function chosenOf(choice: string, there: readonly string[]): string {
  return there.includes(choice) ? choice : (there[0] ?? '');
}

function Week({ weeks }: Pick<Sheets, 'weeks'>) {
  const { timeZone } = useHabits();
  const [week, setWeek] = useState('');
  const [day, setDay] = useState('');
  const startsOn = chosenOf(
    week,
    weeks.map((one) => one.startsOn),
  );
  const days = weeks.find((one) => one.startsOn === startsOn)?.days ?? [];
  const chosenDay = chosenOf(day, days);
  return (
    <Part id="prints-week" title="A week at the Bench">
      {weeks.length === 0 ? (
        <p className="soft">
          No week is planned yet; plan one at the <a href={addressOf('bench')}>Bench</a>.
        </p>
      ) : (
        <>
          <div className="prints-choices">
            <SelectField
              name="Week from"
              value={startsOn}
              options={weeks.map((one) => ({
                value: one.startsOn,
                words: `${dayWords(one.startsOn, timeZone)} ${one.startsOn.slice(0, 4)}`,
              }))}
              onChange={(event) => setWeek(event.target.value)}
            />
            <SelectField
              name="Day"
              value={chosenDay}
              options={days.map((one) => ({ value: one, words: dayWords(one, timeZone) }))}
              onChange={(event) => setDay(event.target.value)}
            />
          </div>
          <Prints
            sheets={[
              ['The week', () => client.bench.printWeek({ startsOn })],
              ['The day', () => client.bench.printDay({ startsOn, day: chosenDay })],
            ]}
          />
        </>
      )}
    </Part>
  );
}

function Book({ books }: Pick<Sheets, 'books'>) {
  const [book, setBook] = useState('');
  const bookId = chosenOf(
    book,
    books.map(({ id }) => id),
  );
  return (
    <Part id="prints-book" title="A book that was worked on">
      {books.length === 0 ? (
        <p className="soft">
          Nothing is in the Day-book yet. A book’s record can be printed at the book on the Shelf at any time.
        </p>
      ) : (
        <>
          <div className="prints-choices">
            <SelectField
              name="Book"
              value={bookId}
              options={books.map(({ id, title }) => ({ value: id, words: shortened(title) }))}
              onChange={(event) => setBook(event.target.value)}
            />
          </div>
          <Prints
            sheets={[
              ['Treatment record', () => client.record.print({ bookId })],
              ['Card for the book', () => client.record.card({ bookId })],
            ]}
          />
        </>
      )}
    </Part>
  );
}

function Shelf({ hasSample }: Pick<Sheets, 'hasSample'>) {
  return (
    <Part id="prints-shelf" title="The Shelf">
      {hasSample ? (
        <Prints sheets={[['The walk along the shelves', () => client.backlog.print()]]} />
      ) : (
        <p className="soft">
          The walk along the shelves can be printed once a sample is drawn, under{' '}
          <a href={addressOf('shelf', 'backlog')}>Size up the backlog</a>.
        </p>
      )}
    </Part>
  );
}

function Course({ courses }: Pick<Sheets, 'courses'>) {
  const [course, setCourse] = useState('');
  const courseId = chosenOf(
    course,
    courses.map(({ id }) => id),
  );
  return (
    <Part id="prints-course" title="A course">
      {courses.length === 0 ? (
        <p className="soft">There is no course yet.</p>
      ) : (
        <>
          <div className="prints-choices">
            <SelectField
              name="Course"
              value={courseId}
              options={courses.map(({ id, title, startsOn }) => ({
                value: id,
                words: `${shortened(title)}, ${startsOn}`,
              }))}
              onChange={(event) => setCourse(event.target.value)}
            />
          </div>
          <Prints
            sheets={[
              ['The timetable', () => client.course.printTimetable({ courseId })],
              ['Cards of the practice copies', () => client.course.printCards({ courseId })],
              ['Meals and needs', () => client.coursePeople.meals({ courseId, form: 'pdf' })],
              ['Report of the course', () => client.coursePeople.printReport({ courseId })],
            ]}
          />
        </>
      )}
    </Part>
  );
}

function Period() {
  const { timeZone } = useHabits();
  const today = new Intl.DateTimeFormat('en-CA', { timeZone, dateStyle: 'short' }).format(new Date());
  const [from, setFrom] = useState(`${today.slice(0, 7)}-01`);
  const [to, setTo] = useState(today);
  return (
    <Part id="prints-period" title="The Day-book, added up">
      <div className="prints-choices">
        <TextField name="From" type="date" value={from} onChange={(event) => setFrom(event.target.value)} />
        <TextField name="To" type="date" value={to} onChange={(event) => setTo(event.target.value)} />
      </div>
      <Prints sheets={[['Summary of the period', () => client.daybook.printSummary({ from, to })]]} />
    </Part>
  );
}
