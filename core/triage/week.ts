/**
 * Which books go into the coming week: the set worth most within the hands' minutes, the presses' minutes, the stock on hand and the donors
 * that can be broken into once. Exact, by `pack`; what just missed is told what it lacked.
 */
import type { MaterialKind, NeedUnit } from '../stock/material.ts';
import type { Proposal, ToolKind } from '../treatment/treatment.ts';
import { minutesWords } from '../units/durations.ts';
import { pack } from './knapsack.ts';

export type Candidate = Readonly<{
  bookId: string;
  /** What doing it is worth; 0 or less is never chosen. */
  value: number;
  /** Hands-on minutes. */
  minutes: number;
  /** Minutes each kind of tool would be held. */
  toolMinutes: Readonly<Partial<Record<ToolKind, number>>>;
  needs: readonly Readonly<{ kind: MaterialKind; unit: NeedUnit; quantity: number }>[];
  /** Wrecks or pieces of the drawer that the repair counts on; one of them serves one book. */
  donors: readonly string[];
  /** In whatever happens. */
  locked: boolean;
}>;

/** A kind of tool or of stock that is not named is not limited. */
export type Capacity = Readonly<{
  handMinutes: number;
  toolMinutes: Readonly<Partial<Record<ToolKind, number>>>;
  stock: readonly Readonly<{ kind: MaterialKind; unit: NeedUnit; quantity: number }>[];
}>;

export type WeekChoice = Readonly<{
  chosen: readonly string[];
  /**
   * Each with what it lacked; the most valuable first of those that might have been in, then of those too much for any week like this
   * (`never`).
   */
  missed: readonly Readonly<{ bookId: string; because: string; never: boolean }>[];
  value: number;
  /** No set of books within these limits is worth more. */
  bound: number;
  optimal: boolean;
}>;

/**
 * A book as the choice sees it. A tool is counted for the hand-work it takes and for what it holds while it dries; a step that dries for
 * days in the open air holds nothing.
 */
export function candidateOf(
  bookId: string,
  proposal: Pick<Proposal, 'steps' | 'minutes' | 'needs'>,
  worth: number,
  { donors = [], locked = false }: Readonly<{ donors?: readonly string[]; locked?: boolean }> = {},
): Candidate {
  const toolMinutes: Partial<Record<ToolKind, number>> = {};
  for (const { tools, minutes, wait } of proposal.steps) {
    for (const tool of tools) toolMinutes[tool] = (toolMinutes[tool] ?? 0) + minutes.likely;
    if (wait && wait.held !== 'air') toolMinutes[wait.held] = (toolMinutes[wait.held] ?? 0) + wait.minutes;
  }
  return {
    bookId,
    value: worth,
    minutes: proposal.minutes.likely,
    toolMinutes,
    needs: proposal.needs,
    donors,
    locked,
  };
}

/** Chooses the week. Locked books are in even where they alone break a limit; the rest then has what is left. */
export function chooseWeek(candidates: readonly Candidate[], capacity: Capacity): WeekChoice {
  const limits = limitsOf(candidates, capacity);
  const free = candidates.filter((candidate) => !candidate.locked);
  const locked = candidates.filter((candidate) => candidate.locked);
  const rows = limits.map((limit) => ({
    weights: free.map(limit.use),
    capacity: Math.max(0, limit.capacity - total(locked.map(limit.use))),
  }));
  const packed = pack({ values: free.map((candidate) => Math.max(0, finite(candidate.value))), rows });

  const taken = free.filter((_, index) => packed.taken[index]);
  const left = rows.map((row, index) => row.capacity - total(taken.map(limits[index]?.use ?? (() => 0))));
  const missed = free
    .filter((_, index) => !packed.taken[index])
    .sort((one, other) => other.value - one.value || (one.bookId < other.bookId ? -1 : 1))
    .map((candidate) => ({
      bookId: candidate.bookId,
      because: because(candidate, limits, left),
      never: limits.some((limit) => limit.use(candidate) > limit.capacity + 1e-9),
    }))
    .toSorted((one, other) => Number(one.never) - Number(other.never));
  const certain = total(locked.map((candidate) => Math.max(0, finite(candidate.value))));
  const chosen = new Set([...locked, ...taken].map((candidate) => candidate.bookId));
  return {
    chosen: candidates.filter((candidate) => chosen.has(candidate.bookId)).map((candidate) => candidate.bookId),
    missed,
    value: packed.value + certain,
    bound: packed.bound + certain,
    optimal: packed.optimal,
  };
}

type Limit = Readonly<{
  capacity: number;
  use: (candidate: Candidate) => number;
  /** The lack as a sentence: how much is wanted, and how much is left. */
  lack: (wanted: number, left: number, capacity: number) => string;
}>;

function limitsOf(candidates: readonly Candidate[], capacity: Capacity): readonly Limit[] {
  const limits: Limit[] = [
    {
      capacity: Math.max(0, finite(capacity.handMinutes)),
      use: (candidate) => Math.max(0, finite(candidate.minutes)),
      lack: (wanted, left, all) =>
        wanted > all
          ? `It takes ${hours(wanted)} and the week has ${hours(all)}.`
          : `It would fit with ${hours(wanted - left)} more; these hours are worth more in the others.`,
    },
  ];
  for (const [kind, minutes] of Object.entries(capacity.toolMinutes)) {
    limits.push({
      capacity: Math.max(0, finite(minutes)),
      use: (candidate) => Math.max(0, finite(candidate.toolMinutes[kind as ToolKind] ?? 0)),
      lack: (wanted, left, all) =>
        wanted > all
          ? `It holds the ${kind} for ${hours(wanted)} and the week has ${hours(all)} of it.`
          : `The ${kind} is taken: ${hours(wanted - left)} of it are short.`,
    });
  }
  for (const { kind, unit, quantity } of capacity.stock) {
    limits.push({
      capacity: Math.max(0, finite(quantity)),
      use: (candidate) =>
        total(candidate.needs.filter((need) => need.kind === kind && need.unit === unit).map((need) => need.quantity)),
      lack: (wanted, left) =>
        `There is not enough ${kind}: ${amount(wanted - left, unit)} more would do, ${amount(Math.max(0, left), unit)} are left.`,
    });
  }
  const wantedBy = new Map<string, number>();
  for (const { donors } of candidates)
    for (const donor of new Set(donors)) wantedBy.set(donor, (wantedBy.get(donor) ?? 0) + 1);
  for (const [donor, wanting] of wantedBy) {
    if (wanting < 2) continue;
    limits.push({
      capacity: 1,
      use: (candidate) => (candidate.donors.includes(donor) ? 1 : 0),
      lack: () => 'The old piece it would take goes to another book this week.',
    });
  }
  return limits;
}

function because(candidate: Candidate, limits: readonly Limit[], left: readonly number[]): string {
  if (!(candidate.value > 0)) return 'Nothing would be gained by doing it this week.';
  let first: string | undefined;
  for (const [index, limit] of limits.entries()) {
    const wanted = limit.use(candidate);
    const here = left[index] ?? 0;
    if (wanted <= here + 1e-9) continue;
    // What no week could give is said before what this one has given away.
    if (wanted > limit.capacity) return limit.lack(wanted, here, limit.capacity);
    first ??= limit.lack(wanted, here, limit.capacity);
  }
  return first ?? 'The search was stopped before it was tried.';
}

function hours(minutes: number): string {
  return minutesWords(Math.ceil(minutes - 1e-9));
}

function amount(quantity: number, unit: NeedUnit): string {
  if (unit === 'm2') return `${Math.ceil(quantity * 1e4 - 1e-6)} cm²`;
  if (unit === 'piece') return `${Math.ceil(quantity - 1e-9)}`;
  return `${Math.ceil(quantity * 10 - 1e-9) / 10} ${unit === 'ml' ? 'mL' : unit}`;
}

function total(numbers: readonly number[]): number {
  let sum = 0;
  for (const number of numbers) sum += number;
  return sum;
}

function finite(number: number): number {
  return Number.isFinite(number) ? number : 0;
}
