/**
 * The fates of all books at once: restore, practice, salvage, clean only, leave. A wreck may be the only source of cloth for a better book,
 * or the one copy that teaches rebacking, so the fates are one mixed-integer program: the most worth within the hours there are, with as
 * few gaps in the course as can be, and no repair without the material it wants. Vetoes are not weighed; they are left out of the program.
 */
import type { Book, Fate, Hazard, Level } from '../book/book.ts';
import { blocks } from '../book/hazards.ts';
import { draftModel, gapOf, type MipModel, noLimit, type SolveModel } from '../optimise/mip.ts';
import { assert } from '../result.ts';
import { minutesWords } from '../units/durations.ts';
import { mayBreak } from './fate.ts';
import type { Assessment } from './priority.ts';

/** One fate a book may have, with what it costs and brings. */
export type FateOption = Readonly<{
  fate: Fate;
  /** On the scale of `Priority.worth`; below 0 where something is lost. */
  worth: number;
  minutes: number;
  /** Course needs, by id, that the book would serve as a copy. */
  teaches: readonly string[];
  /** Materials, by id, that it would yield or use up. */
  gives: readonly Amount[];
  wants: readonly Amount[];
  /** How it would be done, where there is more than one way; a sentence for the reason. */
  how?: string;
}>;
export type Amount = Readonly<{ materialId: string; quantity: number }>;

export type FateBook = Readonly<{
  bookId: string;
  /** The fate a person has decided; the others are then not open. */
  locked: Fate | null;
  options: readonly FateOption[];
  vetoes: readonly Veto[];
}>;
/** `even` holds against a person's decision too: nobody handles a hazard because a fate was set before it was seen. */
type Veto = Readonly<{ fate: Fate; because: string; even: boolean }>;

/** Copies the course needs on which an operation can be taught at a level of difficulty. */
export type CourseNeed = Readonly<{ id: string; operationId: string; level: Level; copies: number }>;
/** Material that cannot be bought: cloth of one pattern, old paper of one tone. `onHand` is what the drawer holds. */
type WreckMaterial = Readonly<{ id: string; name: string; onHand: number }>;

export type FateLimits = Readonly<{
  handMinutes: number;
  courseNeeds: readonly CourseNeed[];
  materials: readonly WreckMaterial[];
}>;

type FateDecision = Readonly<{
  bookId: string;
  fate: Fate;
  reason: string;
  /**
   * The next best fate and about what the whole plan would lose by it; null where no other is open. Below 0 is what a person's decision costs
   * the plan: so much it would gain.
   */
  otherwise: Readonly<{ fate: Fate; loses: number }> | null;
}>;

export type Fates = Readonly<{
  /** `best` is proven; `good` is the best found in the time. */
  status: 'best' | 'good';
  decisions: readonly FateDecision[];
  worth: number;
  bound: number;
  /** Share by which the worth may still be below the best; null where the time was too short for any bound. */
  gap: number | null;
  usedMinutes: number;
  /** Course needs left short, most copies first. */
  short: readonly Readonly<{ need: CourseNeed; copies: number }>[];
  /** What one more hour at the bench would add to the plan's worth. */
  hourWorth: number;
}>;

/** What a copy missing from the course weighs against the worth of books, of which the greatest is 100. The workshop's own rule. */
const missingCopyWorth = 150;

/**
 * Decides all fates together. Locked books keep theirs; every other has one that is open to it. Asks the solver twice: once without
 * whole numbers, for prices and a bound, and once for the plan; `say` is told the bound in between.
 */
export async function decideFates(
  books: readonly FateBook[],
  limits: FateLimits,
  solve: SolveModel,
  seconds = 10,
  say: (bound: number) => void = () => {},
): Promise<Fates> {
  const open = books.map((book) => ({ ...book, options: openOptions(book) }));
  if (open.length === 0) return noFates(limits);
  const program = programOf(open, limits);
  const relaxed = await solve(program.relaxed, { seconds });
  assert(relaxed.status !== 'infeasible', 'without whole numbers, leaving every book is always possible');
  say(relaxed.bound);
  const solved = await solve(program.whole, { seconds, start: program.start });
  assert(solved.status !== 'infeasible', 'leaving every book that may be left is always possible');

  const values = solved.values ?? program.start;
  const chosen = open.map(({ bookId, options }, book) => {
    const option = options.find((_, place) => (values[program.columns[book]?.[place] ?? -1] ?? 0) > 0.5);
    assert(option, `${bookId} has one fate`);
    return option;
  });
  const short = limits.courseNeeds
    .map((need) => ({
      need,
      copies: Math.max(0, need.copies - chosen.filter((option) => option.teaches.includes(need.id)).length),
    }))
    .filter(({ copies }) => copies > 0)
    .sort((one, other) => other.copies - one.copies || (one.need.id < other.need.id ? -1 : 1));
  const missing = short.reduce((sum, { copies }) => sum + copies, 0);
  const worth = chosen.reduce((sum, option) => sum + option.worth, 0) - missingCopyWorth * missing;
  const bound = Math.max(worth, Math.min(solved.bound, relaxed.bound));
  const prices = pricesOf(limits, program, relaxed.prices ?? []);
  const names = namesOf(limits);
  return {
    status: solved.status === 'optimal' ? 'best' : 'good',
    decisions: open.map((book, index) =>
      decision(books[index] ?? book, chosen[index] as FateOption, prices, program.over, names),
    ),
    worth,
    bound,
    gap: gapOf({ objective: worth, bound }),
    usedMinutes: chosen.reduce((sum, option) => sum + option.minutes, 0),
    short,
    hourWorth: prices.minute * 60,
  };
}

function noFates({ courseNeeds }: FateLimits): Fates {
  const short = courseNeeds.filter(({ copies }) => copies > 0).map((need) => ({ need, copies: need.copies }));
  const worth = -missingCopyWorth * short.reduce((sum, { copies }) => sum + copies, 0);
  return { status: 'best', decisions: [], worth, bound: worth, gap: 0, usedMinutes: 0, short, hourWorth: 0 };
}

/**
 * What a book would yield as a wreck and what its repair wants of others. `asNew` is the share of its worth that is left where new material
 * toned to match is used instead; without it there is no repair without the old.
 */
type Pieces = Readonly<{ gives: readonly Amount[]; wants: readonly Amount[]; asNew?: number }>;

/** What the rules of the house leave open to a book, and why the rest is not. */
export function fateBook(
  book: Book,
  hazards: readonly Hazard[],
  assessment: Assessment,
  courseNeeds: readonly CourseNeed[],
  pieces: Pieces,
): FateBook {
  const options: FateOption[] = [];
  const vetoes: Veto[] = [];
  const none = { teaches: [], gives: [], wants: [] };
  const locked = book.fateLocked ? book.fate : null;
  const offer = (option: FateOption, hazard: string | null, because: string | null) => {
    if (hazard === null && (because === null || option.fate === locked)) options.push(option);
    else vetoes.push({ fate: option.fate, because: hazard ?? because ?? '', even: hazard !== null });
  };
  const { worth } = assessment.priority;
  const steps = assessment.proposal.steps;
  const stop = blocks(hazards, 'plan');
  const idle = steps.length === 0 ? 'Nothing here is to be treated on this bench.' : null;

  options.push({ fate: 'leave', worth: 0, minutes: 0, ...none });
  const clean = steps.filter((step) => step.operationId === 'surface clean');
  offer(
    { fate: 'clean only', worth: worth * 0.15, minutes: minutesOf(clean), ...none },
    stop,
    clean.length === 0 ? 'There is nothing to clean.' : null,
  );
  const restore = { fate: 'restore', minutes: assessment.minutes.likely, ...none } as const;
  const old = pieces.wants.length > 0 && pieces.asNew !== undefined;
  if (old) {
    offer({ ...restore, worth: worth * (pieces.asNew ?? 1), how: 'With new material, toned to match.' }, stop, idle);
  }
  offer({ ...restore, worth, wants: pieces.wants }, stop, idle);
  const teaches = courseNeeds
    .filter((need) => need.level === assessment.level && assessment.operations.includes(need.operationId))
    .map((need) => need.id);
  offer(
    { fate: 'practice', worth: -worth * 0.05, minutes: 0, ...none, teaches },
    blocks(hazards, 'student'),
    notForLearners(book) ?? idle,
  );
  offer(
    { fate: 'salvage', worth: -1 - worth * 0.1, minutes: salvageMinutes, ...none, gives: pieces.gives },
    blocks(hazards, 'salvage'),
    notToBeBroken(book, hazards),
  );
  return { bookId: book.id, locked, options, vetoes };
}

/** Half an hour to take a wreck apart and put its pieces away. Common practice, no source. */
const salvageMinutes = 30;

function minutesOf(steps: readonly Readonly<{ minutes: Readonly<{ likely: number }> }>[]): number {
  return steps.reduce((sum, step) => sum + step.minutes.likely, 0);
}

function notForLearners(book: Book): string | null {
  if (book.scarcity === 'rare' || book.scarcity === 'scarce') return `It is ${book.scarcity}: not a copy to learn on.`;
  if (book.significance >= 2) return 'It means too much to be a copy to learn on.';
  return null;
}

function notToBeBroken(book: Book, hazards: readonly Hazard[]): string | null {
  if (mayBreak(book, hazards)) return null;
  if (book.completeness !== 'incomplete') return 'It is complete, or nobody has looked: never broken.';
  if (book.scarcity !== 'common') return 'It is not known to be common: never broken.';
  return 'It matters to somebody: never broken.';
}

const leave: FateOption = { fate: 'leave', worth: 0, minutes: 0, teaches: [], gives: [], wants: [] };

/** Under a lock the decided fate alone, unless a hazard stands in its way; a fate no rule has priced costs and brings nothing. */
function openOptions({ options, locked, vetoes }: FateBook): readonly FateOption[] {
  if (locked === null) return options.length > 0 ? options : [leave];
  if (vetoes.some((veto) => veto.even && veto.fate === locked)) return [leave];
  const ways = options.filter((option) => option.fate === locked);
  return ways.length > 0 ? ways : [{ ...leave, fate: locked }];
}

type Over = Readonly<{ minutes: number; materials: ReadonlyMap<string, number> }>;
const nothingOver: Over = { minutes: 0, materials: new Map() };

type Program = Readonly<{
  whole: MipModel;
  relaxed: MipModel;
  /** By book and option, the column that chooses it. */
  columns: readonly (readonly number[])[];
  hoursRow: number;
  needRows: readonly number[];
  materialRows: readonly number[];
  /** By how much what a person has decided breaks the limits by itself. */
  over: Over;
  /** Every book left that may be: always a plan, if a poor one. */
  start: readonly number[];
}>;

/** One fate a book; the hours; for each course need its copies or a gap; for each material no more used than there is. */
function programOf(books: readonly FateBook[], limits: FateLimits): Program {
  const draft = draftModel();
  const worth = new Map<number, number>();
  const start: number[] = [];
  const hours: [number, number][] = [];
  const needs = new Map(limits.courseNeeds.map(({ id }) => [id, [] as [number, number][]]));
  const materials = new Map(limits.materials.map(({ id }) => [id, new Map<number, number>()]));
  let lockedMinutes = 0;
  const lockedUse = new Map<string, number>();

  const columns = books.map(({ options, locked }) => {
    const leaving = Math.max(
      0,
      options.findIndex(({ fate }) => fate === 'leave'),
    );
    const decided = locked !== null && options.length === 1;
    const own = options.map((option, place) => {
      const column = draft.column(0, 1, true);
      start.push(place === leaving ? 1 : 0);
      worth.set(column, option.worth);
      if (option.minutes > 0) hours.push([column, option.minutes]);
      for (const id of new Set(option.teaches)) needs.get(id)?.push([column, 1]);
      const use = (amounts: readonly Amount[], sign: number) => {
        for (const { materialId, quantity } of amounts) {
          const terms = materials.get(materialId);
          terms?.set(column, (terms.get(column) ?? 0) + sign * quantity);
          if (decided) lockedUse.set(materialId, (lockedUse.get(materialId) ?? 0) + sign * quantity);
        }
      };
      use(option.wants, 1);
      use(option.gives, -1);
      return column;
    });
    if (locked !== null) lockedMinutes += Math.min(...options.map((option) => option.minutes));
    draft.row(
      1,
      1,
      own.map((column) => [column, 1]),
    );
    return own;
  });
  const needRows = limits.courseNeeds.map(({ id, copies }) => {
    const gap = draft.column(0, Math.max(0, copies), false);
    worth.set(gap, -missingCopyWorth);
    const served = needs.get(id) ?? [];
    const lockedIn = served.filter(([column]) => start[column] === 1).length;
    start[gap] = Math.max(0, copies - lockedIn);
    return draft.row(Math.max(0, copies), noLimit, [...served, [gap, 1]]);
  });
  // What a person has decided is done even where it breaks a limit; the rest then has nothing left.
  const hoursRow = draft.row(-noLimit, Math.max(limits.handMinutes, lockedMinutes), hours);
  const materialRows = limits.materials.map(({ id, onHand }) =>
    draft.row(-noLimit, Math.max(onHand, lockedUse.get(id) ?? 0), [...(materials.get(id) ?? [])]),
  );
  const whole = draft.model('most', worth);
  const relaxed = { ...whole, columns: whole.columns.map((column) => ({ ...column, whole: false })) };
  const over = {
    minutes: Math.max(0, lockedMinutes - limits.handMinutes),
    materials: new Map(
      limits.materials.map(({ id, onHand }) => [id, Math.max(0, (lockedUse.get(id) ?? 0) - onHand)] as const),
    ),
  };
  return { whole, relaxed, columns, hoursRow, needRows, materialRows, over, start };
}

type Prices = Readonly<{ minute: number; needs: ReadonlyMap<string, number>; materials: ReadonlyMap<string, number> }>;

/** Shadow prices: what one minute, one copy, one unit of a material is worth to the plan. */
function pricesOf(limits: FateLimits, program: Program, prices: readonly number[]): Prices {
  const price = (row: number | undefined) => Math.abs(prices[row ?? -1] ?? 0);
  return {
    minute: price(program.hoursRow),
    needs: new Map(limits.courseNeeds.map(({ id }, place) => [id, price(program.needRows[place])])),
    materials: new Map(limits.materials.map(({ id }, place) => [id, price(program.materialRows[place])])),
  };
}

type Names = Readonly<{ needs: ReadonlyMap<string, string>; materials: ReadonlyMap<string, string> }>;
function namesOf(limits: FateLimits): Names {
  return {
    needs: new Map(limits.courseNeeds.map((need) => [need.id, `${need.operationId} (${need.level})`])),
    materials: new Map(limits.materials.map((material) => [material.id, material.name])),
  };
}

/** Worth less what it uses, plus what it brings, at the plan's own prices. What is used over the limits is taken from no other book. */
function priced(option: FateOption, prices: Prices, over: Over = nothingOver): number {
  let value = option.worth - prices.minute * Math.max(0, option.minutes - over.minutes);
  for (const id of option.teaches) value += prices.needs.get(id) ?? 0;
  for (const { materialId, quantity } of option.gives) value += quantity * (prices.materials.get(materialId) ?? 0);
  for (const { materialId, quantity } of option.wants) {
    value -= Math.max(0, quantity - (over.materials.get(materialId) ?? 0)) * (prices.materials.get(materialId) ?? 0);
  }
  return value;
}

function decision(book: FateBook, chosen: FateOption, prices: Prices, over: Over, names: Names): FateDecision {
  const locked = book.locked !== null;
  const held = priced(chosen, prices, locked ? over : nothingOver);
  const others = book.options
    .filter((option) => option.fate !== chosen.fate)
    .map((option) => {
      const loses = round(held - priced(option, prices));
      // What the plan chose is the best for it, whatever the prices make of it; what a person chose need not be.
      return { fate: option.fate, loses: locked ? loses : Math.max(0, loses) };
    })
    .sort((one, other) => one.loses - other.loses);
  return {
    bookId: book.bookId,
    fate: chosen.fate,
    reason: reasonFor(book, chosen, prices, names),
    otherwise: others[0] ?? null,
  };
}

function reasonFor(book: FateBook, chosen: FateOption, prices: Prices, names: Names): string {
  if (book.locked !== null) {
    return book.locked === chosen.fate
      ? 'Decided by you.'
      : (book.vetoes.find((veto) => veto.even && veto.fate === book.locked)?.because ?? '');
  }
  const restore = book.options.find((option) => option.fate === 'restore');
  switch (chosen.fate) {
    case 'restore': {
      const scarce = chosen.wants.map(({ materialId }) => names.materials.get(materialId)).filter(Boolean);
      const from = scarce.length > 0 ? `; there is ${scarce.join(', ')} for it` : '';
      const how = chosen.how === undefined ? '' : ` ${chosen.how}`;
      const hour = round(prices.minute * 60);
      return hour > 0
        ? `Worth ${round(chosen.worth)} for ${minutesWords(chosen.minutes)}; an hour in this plan is worth ${hour}${from}.${how}`
        : `Worth ${round(chosen.worth)}, and there are ${minutesWords(chosen.minutes)} for it${from}.${how}`;
    }
    case 'practice': {
      const taught = chosen.teaches.map((id) => names.needs.get(id)).filter(Boolean);
      return taught.length > 0 ? `The course wants copies for ${taught.join(', ')}.` : 'A copy to learn on.';
    }
    case 'salvage': {
      const given = chosen.gives.map(({ materialId }) => names.materials.get(materialId)).filter(Boolean);
      return given.length > 0 ? `Gives ${given.join(', ')} to books that are worth more.` : 'Worth more in pieces.';
    }
    case 'clean only':
      return restore === undefined
        ? 'Cleaning is what can be done for it.'
        : `${minutesWords(restore.minutes)} to restore it are worth more in other books; cleaning takes ${minutesWords(chosen.minutes)}.`;
    case 'leave':
      if (restore === undefined) {
        return book.vetoes.find((veto) => veto.fate === 'restore')?.because ?? 'Nothing is open to it.';
      }
      if (restore.worth <= 0) return 'Nothing would be gained.';
      return restore.wants.some(({ materialId }) => (prices.materials.get(materialId) ?? 0) > 0)
        ? 'The material it wants goes to other books.'
        : `${minutesWords(restore.minutes)} to restore it are worth more in other books.`;
  }
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
