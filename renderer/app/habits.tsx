/** How this workshop works: what it is called, its hours and units, what an hour costs, and what makes a book urgent here. */
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { Habits as HabitsOf } from '../../core/contract/workshop.ts';
import { defaultWeights } from '../../core/triage/priority.ts';
import { formatSittings, readSittings } from '../../core/units/hours.ts';
import { readNumber } from '../../core/units/numbers.ts';
import { Button, TextField } from '../parts/controls.tsx';
import { TroubleNotice } from '../parts/notices.tsx';
import { Refusal } from '../parts/refusal.ts';
import { SavedSelect, SavedText } from '../parts/saved.tsx';
import { Steadiness } from '../parts/steadiness.tsx';
import { ask, client } from './client.ts';
import './habits.css';
import { useHabits, useStatus } from './queries.ts';
import { addressOf, goTo } from './route.ts';
import { Sharing } from './sharing.tsx';
import { setTheme, themes, useTheme } from './theme.ts';

const days = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];

/** The named parts of a book's priority. */
const partWords: Readonly<Record<string, string>> = {
  significance: 'What the book is worth to keep, by your own judgement and its scarcity',
  decay: 'How badly it is off, and whether it still gets worse',
  use: 'How much it will be read',
  benefit: 'How much of the damage the treatment answers',
};

export function HabitsPage() {
  const habits = useHabits();
  const theme = useTheme();
  const queries = useQueryClient();
  async function keep(patch: Partial<HabitsOf>): Promise<void> {
    const status = await client.workshop.setHabits(patch);
    queries.setQueryData(ask.workshop.status.queryKey(), status);
    void queries.invalidateQueries();
  }
  const money = 10 ** (new Intl.NumberFormat('en', currencyOf(habits)).resolvedOptions().maximumFractionDigits ?? 2);
  return (
    <div className="habits">
      <h2>How this workshop works</h2>
      <section className="habits-part">
        <div className="fields">
          <SavedText name="Its name" value={habits.name} keep={(name) => keep({ name })} />
          <SavedSelect
            name="Measures in"
            value={habits.units}
            options={[
              { value: 'mm', words: 'millimetres, inches beside' },
              { value: 'in', words: 'inches, millimetres beside' },
            ]}
            keep={(units) => keep({ units })}
          />
          <SavedText
            name="Currency"
            value={habits.currency}
            known={['EUR', 'GBP', 'USD', 'CHF', 'SEK', 'CAD', 'AUD']}
            keep={(currency) => keep({ currency: currency.trim().toUpperCase() })}
          />
          <SavedText
            name={`An hour of your work, ${habits.currency}`}
            value={String(habits.hourlyRateMinor / money)}
            keep={(text) => {
              const read = readNumber(text);
              if (!read.ok) return Promise.reject(new Refusal(read.refusal.sentence));
              return keep({ hourlyRateMinor: Math.round(read.value * money) });
            }}
          />
          <SavedSelect
            name="Prints on"
            value={habits.paper}
            options={[
              { value: 'A4', words: 'A4' },
              { value: 'LETTER', words: 'Letter' },
            ]}
            keep={(paper) => keep({ paper })}
          />
          <SavedText name="Time zone" value={habits.timeZone} keep={(timeZone) => keep({ timeZone })} />
          <SavedSelect
            name="Look"
            value={theme}
            options={themes.map((value) => ({ value, words: value === 'system' ? 'as the system has it' : value }))}
            keep={async (next) => setTheme(next)}
          />
        </div>
        <SavedText
          long
          name="Under the name at the head of printed sheets, such as an address"
          value={habits.heading}
          keep={(heading) => keep({ heading })}
        />
      </section>
      <section className="habits-part">
        <h3>Hours at the bench</h3>
        <div className="fields">
          {days.map((day, at) => (
            <SavedText
              key={day}
              name={day}
              value={formatSittings(habits.weekHours[at] ?? [])}
              keep={(text) => {
                const read = readSittings(text);
                if (!read.ok) return Promise.reject(new Refusal(read.refusal.sentence));
                const sittings = read.value.map(([from, to]): [number, number] => [from, to]);
                return keep({ weekHours: habits.weekHours.map((hours, other) => (other === at ? sittings : hours)) });
              }}
            />
          ))}
        </div>
        <SavedText
          long
          name="Days off, one a line, as 2026-12-24"
          value={habits.daysOff.join('\n')}
          keep={(text) => keep({ daysOff: text.split(/[\s,;]+/).filter((day) => day !== '') })}
        />
      </section>
      <section className="habits-part">
        <h3>What makes a book urgent here</h3>
        <p className="soft">
          Each part counts from 0, not at all, to 10. Their weighted mean, divided by the hours of work, puts the shelf
          in order.
        </p>
        <div className="fields">
          {Object.keys(defaultWeights).map((name) => (
            <SavedSelect
              key={name}
              name={name}
              hint={partWords[name] ?? ''}
              value={String(habits.weights[name] ?? defaultWeights[name] ?? 0)}
              options={Array.from({ length: 11 }, (_, weight) => ({ value: String(weight), words: String(weight) }))}
              keep={(weight) => keep({ weights: { ...habits.weights, [name]: Number(weight) } })}
            />
          ))}
        </div>
        <Steadiness />
      </section>
      <Sharing />
      <Elsewhere />
    </div>
  );
}

function currencyOf({ currency }: HabitsOf): Intl.NumberFormatOptions {
  return { style: 'currency', currency };
}

/** Where the workshop is kept, and the way to another one. */
function Elsewhere() {
  const queries = useQueryClient();
  const { data: status } = useStatus();
  const [folder, setFolder] = useState('');
  const [error, setError] = useState<unknown>(null);
  async function open(): Promise<void> {
    setError(null);
    try {
      const opened = await client.workshop.open({ folder });
      goTo('shelf');
      queries.clear();
      queries.setQueryData(ask.workshop.status.queryKey(), opened);
    } catch (thrown) {
      setError(thrown);
    }
  }
  return (
    <section className="habits-part">
      <h3>Where it is kept</h3>
      <p>
        Everything is in the folder <code>{status?.open?.folder}</code>. Backups, going back to one, a zip of everything
        and lists to take away are under <a href={addressOf('safe-keeping')}>Safe keeping</a>.
      </p>
      <div className="habits-open">
        <TextField
          name="Another workshop’s folder"
          value={folder}
          onChange={(event) => setFolder(event.target.value)}
        />
        <Button onClick={open} disabled={folder.trim() === ''}>
          Open that one
        </Button>
      </div>
      {error !== null && <TroubleNotice error={error} />}
      <p className="small soft">Kettlestitch {status?.version}, MIT licence.</p>
    </section>
  );
}
