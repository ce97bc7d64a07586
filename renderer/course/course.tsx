/** The Course: whether it all fits, and the views in which it is put together, from its people to what it costs. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { Course, CourseLine } from '../../core/contract/course.ts';
import { ask, client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { goTo, useRoute } from '../app/route.ts';
import { hushAll } from '../app/say.ts';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { EmptyRoom, TroubleNotice, Working } from '../parts/notices.tsx';
import { dayWords } from '../parts/words.ts';
import { Pairs } from './allocation.tsx';
import { Attendance } from './attendance.tsx';
import { Capacity } from './capacity.tsx';
import { Copies } from './copies.tsx';
import './course.css';
import './course-plan.css';
import { FrameForm } from './frame-form.tsx';
import { Kit } from './kit.tsx';
import { Letters } from './letters.tsx';
import { Matrix } from './matrix.tsx';
import { Money } from './money.tsx';
import { Decision } from './money-decision.tsx';
import { People } from './people.tsx';
import { Programme } from './programme.tsx';
import { Residence } from './residence.tsx';
import { Syllabus } from './syllabus.tsx';
import { Fits, Impossible } from './verdicts.tsx';
import { WeekView } from './week-view.tsx';
import { useCourseWork } from './working.ts';

export function CourseRoom() {
  const { id } = useRoute();
  const list = useQuery(ask.course.list.queryOptions());
  const today = new Date().toISOString().slice(0, 10);
  if (list.error) return <TroubleNotice error={list.error} again={() => void list.refetch()} />;
  if (!list.data) return <Opening />;
  if (id === 'new') {
    return (
      <div className="course">
        <h2>A new course</h2>
        <FrameForm course={null} past={list.data} onDone={(made) => goTo('course', made?.id ?? null)} />
      </div>
    );
  }
  const current = list.data.find((line) => line.id === id) ?? nextOf(list.data, today);
  if (current === null) {
    return (
      <EmptyRoom title="No course is planned">
        <p>
          Say when it is, who comes and what they are to learn. Kettlestitch finds which practice copy is whose, lays
          out the week around tutor, presses and drying, and says what it uses up and what it costs.
        </p>
        <Button look="main" onClick={() => goTo('course', 'new')}>
          Plan a course
        </Button>
      </EmptyRoom>
    );
  }
  return <OneCourse key={current.id} id={current.id} lines={list.data} />;
}

/** The course that is next or going on; when all are over, the last. */
function nextOf(lines: readonly CourseLine[], today: string): CourseLine | null {
  const ahead = lines.filter((line) => line.endsOn >= today).toSorted((a, b) => (a.startsOn < b.startsOn ? -1 : 1));
  return ahead[0] ?? lines[0] ?? null;
}

function Opening() {
  return (
    <p className="opening" role="status">
      Opening the course …
    </p>
  );
}

const views = [
  ['people', 'People'],
  ['residence', 'Residence'],
  ['letters', 'Letters'],
  ['programme', 'Programme'],
  ['syllabus', 'Syllabus'],
  ['copies', 'Copies'],
  ['pairs', 'Pairs'],
  ['matrix', 'Who meets what'],
  ['week', 'The week'],
  ['kit', 'Kit'],
  ['money', 'Money'],
  ['attendance', 'During and after'],
] as const;
type View = (typeof views)[number][0];

function OneCourse({ id, lines }: Readonly<{ id: string; lines: readonly CourseLine[] }>) {
  const opened = useQuery(ask.course.open.queryOptions({ input: { id } }));
  const work = useCourseWork(id);
  const [view, setView] = useState<View>('week');
  const [changing, setChanging] = useState(false);
  if (opened.error) return <TroubleNotice error={opened.error} again={() => void opened.refetch()} />;
  if (!opened.data) return <Opening />;
  const course = opened.data;
  const busy = work.words !== null;
  return (
    <div className="course">
      <Head course={course} lines={lines} changing={changing} onChange={() => setChanging(!changing)} />
      {changing && <FrameForm course={course} past={[]} onDone={() => setChanging(false)} />}
      <Fits verdicts={course.verdicts} />
      {work.error !== null && <TroubleNotice error={work.error} />}
      {work.words !== null && <Working words={work.words} onStop={work.stop} />}
      {work.impossible && <Impossible found={work.impossible} />}
      <div className="actions course-views">
        {views.map(([key, words]) => (
          <Button
            key={key}
            aria-pressed={view === key}
            look={view === key ? 'main' : 'plain'}
            onClick={() => {
              hushAll();
              setView(key);
            }}
          >
            {words}
          </Button>
        ))}
      </div>
      {view === 'people' && <People course={course} />}
      {view === 'residence' && <Residence course={course} />}
      {view === 'letters' && <Letters course={course} />}
      {view === 'programme' && <Programme course={course} />}
      {view === 'syllabus' && <Syllabus course={course} />}
      {view === 'copies' && <Copies course={course} busy={busy} onAllocate={work.allocate} />}
      {view === 'pairs' && <Pairs course={course} />}
      {view === 'matrix' && <Matrix course={course} busy={busy} onAllocate={work.allocate} />}
      {view === 'week' && <WeekView course={course} busy={busy} onLayOut={work.layOut} onAllocate={work.allocate} />}
      {view === 'kit' && <Kit course={course} />}
      {view === 'money' && <Money course={course} />}
      {view === 'money' && <Decision course={course} />}
      {view === 'money' && <Capacity course={course} />}
      {view === 'attendance' && <Attendance course={course} />}
    </div>
  );
}

type HeadProps = Readonly<{ course: Course; lines: readonly CourseLine[]; changing: boolean; onChange: () => void }>;

function Head({ course, lines, changing, onChange }: HeadProps) {
  const [trouble, setTrouble] = useState<unknown>(null);
  const remove = useChange(client.course.remove, ({ title }) => `“${title}” is removed; undo brings it back.`);
  const zone = course.timeZone;

  async function print(file: () => ReturnType<typeof client.course.printCards>) {
    setTrouble(null);
    try {
      saveFile(await file());
    } catch (error) {
      setTrouble(error);
    }
  }

  return (
    <header className="course-head">
      <div>
        <h2>{course.frame.title}</h2>
        <p className="soft">
          {dayWords(course.frame.startsOn, zone)} to {dayWords(course.endsOn, zone)} {course.endsOn.slice(0, 4)},{' '}
          {course.frame.days} {course.frame.days === 1 ? 'day' : 'days'}
        </p>
      </div>
      <div className="actions">
        {lines.length > 1 && (
          <label className="course-choose">
            <span className="visually-hidden">Course</span>
            <select value={course.id} onChange={(event) => goTo('course', event.target.value)}>
              {lines.map((line) => (
                <option key={line.id} value={line.id}>
                  {line.title}, {line.startsOn}
                </option>
              ))}
            </select>
          </label>
        )}
        <Button onClick={onChange} aria-expanded={changing}>
          Dates, hours and money
        </Button>
        <Button onClick={() => goTo('course', 'new')}>Plan another</Button>
        <Button look="quiet" onClick={() => void print(() => client.course.printTimetable({ courseId: course.id }))}>
          Print the week
        </Button>
        <Button look="quiet" onClick={() => void print(() => client.course.printCards({ courseId: course.id }))}>
          Print the cards
        </Button>
        {changing && (
          <Button
            look="harm"
            onClick={() => {
              remove.mutate({ id: course.id });
              goTo('course');
            }}
          >
            Remove this course
          </Button>
        )}
      </div>
      {trouble !== null && <TroubleNotice error={trouble} />}
      {remove.error && <TroubleNotice error={remove.error} />}
    </header>
  );
}
