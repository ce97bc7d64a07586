/**
 * Beds: as many people as can be, nobody against a stated need, then as many wishes as can be. Two small mixed-integer programs, one after
 * the other; where not everybody can be placed, a smallest set of people who cannot be placed together is found by leaving out one after
 * the other (deletion filter, Chinneck and Dravnieks 1991).
 */
import { draftModel, noLimit, type SolveModel } from '../optimise/mip.ts';
import { assert, ok, type Result, refuse } from '../result.ts';
import type { Need, RoomWish } from './guest.ts';
import { inWords } from './names.ts';

export type Room = Readonly<{
  id: string;
  name: string;
  beds: number;
  stepFree: boolean;
  ensuite: boolean;
  quiet: boolean;
}>;

export type Sleeper = Readonly<{
  id: string;
  name: string;
  needs: readonly Need[];
  wish: RoomWish;
  wishQuiet: boolean;
  shareWith: readonly string[];
  /** A need as well: these two never share, whoever of them said so. */
  notWith: readonly string[];
  /** A place given by hand is kept. */
  kept: string | null;
}>;

export type Placing = Readonly<{
  /** Room by person; whoever is not in it has no bed. */
  rooms: ReadonlyMap<string, string>;
  /** Nobody could place more people, nor meet more wishes. */
  proven: boolean;
  /** Why somebody has no bed, or a kept place stands against a need. */
  remarks: readonly string[];
}>;

/** Why this person may not sleep in this room, whoever else does; null where they may. */
function whyNotRoom(person: Sleeper, room: Room): string | null {
  if (person.needs.includes('step-free') && !room.stepFree)
    return `${room.name} is not step-free, which ${person.name} needs.`;
  if (person.needs.includes('en suite') && !room.ensuite)
    return `${room.name} has no bathroom of its own, which ${person.name} needs.`;
  if (person.needs.includes('quiet room') && !room.quiet)
    return `${room.name} is not a quiet room, which ${person.name} needs.`;
  return room.beds < 1 ? `${room.name} has no bed.` : null;
}

/** Why these two may not share; null where they may. */
function whyNotTogether(one: Sleeper, other: Sleeper): string | null {
  for (const [person, beside] of [
    [one, other],
    [other, one],
  ] as const) {
    if (person.needs.includes('own room')) return `${person.name} needs a room of their own.`;
    if (person.notWith.includes(beside.id)) return `${person.name} is not to share with ${beside.name}.`;
  }
  return null;
}

/** What is wrong with a placing, in sentences; nothing where it holds. Knows nothing of how it was found. */
export function placingTrouble(
  people: readonly Sleeper[],
  rooms: readonly Room[],
  placed: ReadonlyMap<string, string>,
): readonly string[] {
  const trouble: string[] = [];
  for (const room of rooms) {
    const inside = people.filter(({ id }) => placed.get(id) === room.id);
    if (inside.length > room.beds) trouble.push(`${room.name} has ${inside.length} people in ${room.beds} beds.`);
    for (const [index, person] of inside.entries()) {
      const alone = whyNotRoom(person, room);
      if (alone !== null) trouble.push(alone);
      for (const other of inside.slice(index + 1)) {
        const together = whyNotTogether(person, other);
        if (together !== null) trouble.push(together);
      }
    }
  }
  return trouble;
}

/** Places everybody it can. Refuses where places kept by hand stand against a need, naming it. */
export async function placePeople(
  people: readonly Sleeper[],
  rooms: readonly Room[],
  solve: SolveModel,
  seconds: number,
): Promise<Result<Placing>> {
  const kept = new Map(people.flatMap(({ id, kept }) => (kept === null ? [] : [[id, kept] as const])));
  const wrong = placingTrouble(people, rooms, kept);
  if (wrong[0] !== undefined) return refuse(`A place kept by hand cannot stay: ${wrong[0]}`);
  if (people.length === 0) return ok({ rooms: new Map(), proven: true, remarks: [] });

  const model = draft(people, rooms);
  // Of as many people, rather those who need something.
  const wanted = new Map(people.map(({ id, needs }) => [id, aPlace + needs.length]));
  const costs = new Map(model.places.map(({ column, person }) => [column, wanted.get(person) ?? aPlace]));
  const most = await solve(model.model('most', costs), { seconds, absoluteGap: 0.999 });
  if (most.values === null) return refuse('No placing was found in the time given. Try again.');
  const placed = Math.floor(most.objective / aPlace);
  model.row(
    Math.round(most.objective),
    noLimit,
    [...costs].map(([column, cost]) => [column, cost] as const),
  );
  const best = await solve(model.model('most', model.wishes), { seconds, start: most.values });
  const values = best.values ?? most.values;
  const found = new Map(
    model.places.filter(({ column }) => values[column] === 1).map(({ person, room }) => [person, room]),
  );
  assert(placingTrouble(people, rooms, found).length === 0, 'nobody is placed against a stated need');
  const remarks = placed === people.length ? [] : await whyNotAll(people, rooms, found, solve, seconds);
  return ok({ rooms: found, proven: most.status === 'optimal' && best.status === 'optimal', remarks });
}

/** So much that no needs outweigh a place. */
const aPlace = 10_000;

/** Wishes are worth this much; whom one wishes to share with before where. The workshop's own rule. */
const worth = { shareWith: 3, alone: 2, share: 1, quiet: 1 };

function draft(people: readonly Sleeper[], rooms: readonly Room[]) {
  const draftOf = draftModel();
  const places = people.flatMap((person) =>
    rooms
      .filter((room) => whyNotRoom(person, room) === null && (person.kept === null || person.kept === room.id))
      .map((room) => ({ person: person.id, room: room.id, column: draftOf.column(0, 1, true) })),
  );
  const columnOf = new Map(places.map(({ person, room, column }) => [`${person} ${room}`, column]));
  const at = (person: string, room: string) => columnOf.get(`${person} ${room}`);
  const wishes = new Map<number, number>();
  for (const { id, kept } of people) {
    const own = places.filter(({ person }) => person === id).map(({ column }) => [column, 1] as const);
    draftOf.row(kept === null ? 0 : 1, 1, own);
  }
  for (const room of rooms) {
    const inside = places.filter((place) => place.room === room.id);
    draftOf.row(
      0,
      room.beds,
      inside.map(({ column }) => [column, 1] as const),
    );
    for (const [index, person] of people.entries()) {
      const here = at(person.id, room.id);
      if (here === undefined) continue;
      const others = inside.filter((place) => place.person !== person.id);
      for (const other of people.slice(index + 1)) {
        const there = at(other.id, room.id);
        if (there === undefined) continue;
        if (whyNotTogether(person, other) !== null)
          draftOf.row(0, 1, [
            [here, 1],
            [there, 1],
          ]);
      }
      if (room.quiet && person.wishQuiet) wishes.set(here, worth.quiet);
      if (person.wish !== 'either' && others.length > 0) {
        // One where the wish is met in this room, which asks that the person sleeps here.
        const granted = draftOf.column(0, 1, true);
        draftOf.row(-noLimit, 0, [
          [granted, 1],
          [here, -1],
        ]);
        const company = others.map(({ column }) => [column, 1] as const);
        if (person.wish === 'alone') draftOf.row(-noLimit, room.beds, [[granted, room.beds], ...company]);
        else draftOf.row(-noLimit, 0, [[granted, 1], ...company.map(([column]) => [column, -1] as const)]);
        wishes.set(granted, worth[person.wish]);
      } else if (person.wish === 'alone') wishes.set(here, (wishes.get(here) ?? 0) + worth.alone);
      for (const friend of new Set(person.shareWith)) {
        const there = friend === person.id ? undefined : at(friend, room.id);
        if (there === undefined) continue;
        const together = draftOf.column(0, 1, true);
        draftOf.row(-noLimit, 0, [
          [together, 1],
          [here, -1],
        ]);
        draftOf.row(-noLimit, 0, [
          [together, 1],
          [there, -1],
        ]);
        wishes.set(together, worth.shareWith);
      }
    }
  }
  return { ...draftOf, places, wishes };
}

async function whyNotAll(
  people: readonly Sleeper[],
  rooms: readonly Room[],
  placed: ReadonlyMap<string, string>,
  solve: SolveModel,
  seconds: number,
): Promise<readonly string[]> {
  const remarks: string[] = [];
  for (const person of people) {
    if (placed.has(person.id)) continue;
    const suited = rooms.filter((room) => whyNotRoom(person, room) === null);
    if (suited.length > 0) continue;
    const wanted = person.needs.filter((need) => need !== 'own room');
    remarks.push(
      wanted.length === 0
        ? `There is no room with a bed for ${person.name}.`
        : `No room is ${inWords(wanted.map(needWords))}, as ${person.name} needs.`,
    );
  }
  if (remarks.length > 0) return remarks;
  let group = people;
  for (const person of people) {
    const fewer = group.filter(({ id }) => id !== person.id);
    const model = draft(fewer, rooms);
    const all = new Map(model.places.map(({ column }) => [column, 1]));
    const answer = await solve(model.model('most', all), { seconds, absoluteGap: 0.999 });
    if (Math.round(answer.objective) < fewer.length) group = fewer;
  }
  const told = group.map(({ name, needs, notWith }) => {
    const words = [...needs.map(needWords), ...(notWith.length > 0 ? ['not with everybody'] : [])];
    return words.length === 0 ? name : `${name} (${words.join(', ')})`;
  });
  return [
    `${inWords(told)} cannot all have a bed in these rooms without breaking what somebody needs; without any one of them the others of these could.`,
  ];
}

function needWords(need: Need): string {
  return need === 'own room' ? 'a room of their own' : need === 'quiet room' ? 'quiet' : need;
}
