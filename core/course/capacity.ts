/**
 * How many people the same course would hold: each thing that runs out, and at how many. Reckoned from what the present people use on
 * average, so an estimate; whether a certain number really fits is for the timetable to show.
 */
import { type Load, share } from './loads.ts';

export type Limit = Readonly<{ what: string; people: number; sentence: string }>;

export type CapacityFacts = Readonly<{
  people: number;
  benches: number;
  usableCopies: number;
  spares: number;
  leastCopiesEach: number;
  loads: readonly Load[];
}>;

/** Above this share of its minutes a shared thing makes people queue. Common practice, no source. */
const busiest = 0.85;
/** Numbers of people anybody teaches at once. */
const most = 40;

/** Limits, the lowest first; empty while nobody is enrolled and nothing is known. */
export function capacity(facts: CapacityFacts): readonly Limit[] {
  const limits: Limit[] = [
    {
      what: 'benches',
      people: facts.benches,
      sentence: facts.benches === 1 ? 'There is 1 bench.' : `There are ${facts.benches} benches.`,
    },
  ];
  if (facts.leastCopiesEach > 0) {
    const people = Math.max(0, Math.floor((facts.usableCopies - facts.spares) / facts.leastCopiesEach));
    limits.push({
      what: 'practice copies',
      people,
      sentence: `${facts.usableCopies} ${facts.usableCopies === 1 ? 'copy' : 'copies'}, ${facts.spares} kept back, at least ${facts.leastCopiesEach} each.`,
    });
  }
  if (facts.people > 0) {
    for (const load of facts.loads) {
      const used = share(load);
      if (used <= 0) continue;
      const people = Math.floor((facts.people * busiest) / used + 1e-9);
      limits.push({
        what: load.what,
        people: Math.min(most, people),
        sentence: `${Math.round(used * 100)} % taken by ${facts.people} ${facts.people === 1 ? 'person' : 'people'}; above ${Math.round(busiest * 100)} % they queue.`,
      });
    }
  }
  return limits.toSorted((one, other) => one.people - other.people);
}
