/** The Bench: this week as bars, how good the plan is, what to do now, and which books the week should hold. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ask, client } from '../app/client.ts';
import { useHabits } from '../app/queries.ts';
import { Button } from '../parts/controls.tsx';
import { saveFile } from '../parts/files.ts';
import { EmptyRoom, TroubleNotice, Working } from '../parts/notices.tsx';
import { dayWords, minutesWords } from '../parts/words.ts';
import './bench.css';
import { ChooseWeek } from './choose.tsx';
import { NextSteps } from './next-steps.tsx';
import { usePlanning } from './planning.ts';
import { QualityLine } from './quality.tsx';
import { StepPane } from './step-pane.tsx';
import { addDays, mondayOf, useNow } from './time.ts';
import { Tools } from './tools.tsx';
import { WeekPicture } from './week-picture.tsx';

export function BenchRoom() {
  const now = useNow();
  const { timeZone } = useHabits();
  const [startsOn, setStartsOn] = useState(() => mondayOf(Date.now(), timeZone));
  const [open, setOpen] = useState<'choose' | 'tools' | null>(null);
  const [selected, setSelected] = useState<string | null>(null);
  const week = useQuery(ask.bench.week.queryOptions({ input: { startsOn } }));
  const planning = usePlanning(startsOn);
  const [printTrouble, setPrintTrouble] = useState<unknown>(null);

  if (week.error) return <TroubleNotice error={week.error} again={() => void week.refetch()} />;
  if (!week.data) return null;
  const { plan } = week.data;
  const task = plan?.tasks.find((one) => one.id === selected) ?? null;

  async function print() {
    setPrintTrouble(null);
    try {
      saveFile(await client.bench.printWeek({ startsOn }));
    } catch (error) {
      setPrintTrouble(error);
    }
  }

  return (
    <div className="bench">
      <header className="bench-head">
        <div className="actions">
          <Button aria-label="The week before" onClick={() => setStartsOn(addDays(startsOn, -7))}>
            ‹
          </Button>
          <h2>Week of {dayWords(startsOn, timeZone)}</h2>
          <Button aria-label="The week after" onClick={() => setStartsOn(addDays(startsOn, 7))}>
            ›
          </Button>
          <span className="soft">{minutesWords(week.data.handMinutes)} of bench time left</span>
        </div>
        <div className="actions">
          <Button
            look={plan ? 'plain' : 'main'}
            onClick={() => setOpen(open === 'choose' ? null : 'choose')}
            aria-expanded={open === 'choose'}
          >
            Choose the books
          </Button>
          <Button onClick={() => setOpen(open === 'tools' ? null : 'tools')} aria-expanded={open === 'tools'}>
            Tools
          </Button>
          {plan && <Button onClick={() => void print()}>Print the week</Button>}
        </div>
      </header>

      {printTrouble !== null && <TroubleNotice error={printTrouble} />}
      {planning.error !== null && <TroubleNotice error={planning.error} />}
      {planning.words !== null && <Working words={planning.words} onStop={planning.stop} />}
      {open === 'tools' && <Tools tools={week.data.tools} />}
      {open === 'choose' && (
        <ChooseWeek
          startsOn={startsOn}
          planned={[...new Set(plan?.tasks.filter((one) => one.state !== 'finished').map((one) => one.bookId) ?? [])]}
          busy={planning.words !== null}
          onPlan={(bookIds) => {
            setOpen(null);
            setSelected(null);
            planning.start(bookIds);
          }}
        />
      )}

      {plan ? (
        <>
          <QualityLine quality={plan.quality} timeZone={timeZone} />
          <NextSteps week={week.data} now={now} onSelect={setSelected} />
          <div className={task ? 'bench-beside' : undefined}>
            <WeekPicture week={week.data} now={now} selected={selected} onSelect={setSelected} />
            {task && (
              <StepPane
                key={task.id}
                task={task}
                tools={week.data.tools}
                timeZone={timeZone}
                onClose={() => setSelected(null)}
              />
            )}
          </div>
        </>
      ) : (
        planning.words === null &&
        open !== 'choose' && (
          <EmptyRoom title="No plan for this week yet">
            <p>
              Choose the books and Kettlestitch lays out the week: your hands on one book while another dries, each
              press with its places, and when the last one is out.
            </p>
            <Button look="main" onClick={() => setOpen('choose')}>
              Choose the books
            </Button>
          </EmptyRoom>
        )
      )}
    </div>
  );
}
