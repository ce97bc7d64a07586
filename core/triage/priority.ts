/**
 * Which book deserves attention first. Four named parts, each from 0 to 1 out of the survey, weighted by the person, divided by hours.
 * A published rule for multiplying or adding such parts was not found: the sum and the division are the workshop's own. The step rule
 * inside `decay` is published.
 */
import type { Book, Fate, Finding, Hazard, Level } from '../book/book.ts';
import { blocks } from '../book/hazards.ts';
import type { KeptMeasures } from '../trade/own-case.ts';
import type { Effort } from '../treatment/effort.ts';
import { broughtLibrary, type Library } from '../treatment/library.ts';
import { propose } from '../treatment/propose.ts';
import type { Proposal, ThreePoint } from '../treatment/treatment.ts';
import { minutesWords } from '../units/durations.ts';
import { isSurveyed, suggestFate } from './fate.ts';

/** Raised when rules or the library change what an assessment says; older assessments are then worked out again. */
export const rulesVersion = 5;

/** The parts in the order they are shown and, where two weigh alike, named first. */
export const partNames = ['significance', 'decay', 'use', 'benefit'] as const;
type PartName = (typeof partNames)[number];
/** How much each part counts, 0 to 10; the workshop's habits may hold others too, which are passed over. */
export type Weights = Readonly<Record<string, number>>;

/** The workshop's own choice. */
export const defaultWeights: Weights = { significance: 3, decay: 4, use: 2, benefit: 3 };

type PriorityPart = Readonly<{ name: PartName; value: number; weight: number; why: string }>;
export type Priority = Readonly<{
  score: number;
  /** Why nothing is asked of the book any more, as a sentence, or null; its score is then 0, whatever its parts are. */
  settled: string | null;
  /** The score before it is divided by hours, 0 to 100: what doing the book is worth, however long it takes. */
  worth: number;
  parts: readonly PriorityPart[];
  /** One for each part, for when it weighs most; or the only one, where weights do not matter. */
  reasons: readonly string[];
}>;

/** Score from 0 upwards, about 100 for a book that scores fully in every part and takes an hour. A book with nothing to be done, or done, or left alone by its person's decision scores 0. */
export function prioritise(
  book: Book,
  findings: readonly Finding[],
  proposal: Proposal,
  weights: Weights = defaultWeights,
): Priority {
  const significance = significanceOf(book);
  const decay = decayOf(findings);
  const use = useValues[book.use];
  const benefit = benefitOf(findings, proposal);
  const parts: readonly PriorityPart[] = [
    {
      name: 'significance',
      value: significance,
      weight: weightOf(weights, 'significance'),
      why: significanceWhy(book),
    },
    { name: 'decay', value: decay, weight: weightOf(weights, 'decay'), why: decayWords[Math.round(decay * 3)] ?? '' },
    { name: 'use', value: use, weight: weightOf(weights, 'use'), why: `for ${book.use}` },
    { name: 'benefit', value: benefit, weight: weightOf(weights, 'benefit'), why: benefitWhy(benefit) },
  ];
  const settled = settledWhy(book);
  const worth = proposal.steps.length === 0 ? 0 : worthOf(parts);
  // Under half an hour counts as half an hour, or trifles would lead every list.
  const score = settled === null ? thousandth(worth / hoursOf(proposal.minutes.likely)) : 0;
  return { score, settled, worth: thousandth(worth), parts, reasons: reasonsOf(book, findings, proposal) };
}

function settledWhy({ stage, fate }: Book): string | null {
  if (stage === 'done') return 'Done.';
  return fate === 'leave' ? 'You decided to leave it.' : null;
}

/** Weighted mean of the parts times 100. */
function worthOf(parts: readonly PriorityPart[]): number {
  let sum = 0;
  let weight = 0;
  for (const part of parts) {
    sum += part.weight * part.value;
    weight += part.weight;
  }
  return weight > 0 ? (100 * sum) / weight : 0;
}

function thousandth(value: number): number {
  return Math.round(value * 1000) / 1000;
}

function hoursOf(minutes: number): number {
  return Math.max(minutes, 30) / 60;
}

function weightOf(weights: Weights, name: PartName): number {
  const weight = weights[name] ?? defaultWeights[name] ?? 0;
  return Number.isFinite(weight) ? Math.max(0, weight) : 0;
}

function significanceOf(book: Book): number {
  const scarce = book.scarcity === 'rare' ? 0.25 : book.scarcity === 'scarce' ? 0.15 : 0;
  return Math.min(1, book.significance / 3 + scarce);
}

const significanceWords = [
  'no particular significance',
  'some significance',
  'considerable significance',
  'outstanding significance',
];
function significanceWhy(book: Book): string {
  const scarce = book.scarcity === 'rare' || book.scarcity === 'scarce' ? `, ${book.scarcity}` : '';
  return `${significanceWords[book.significance] ?? ''}${scarce}`;
}

/** The workshop's own values. */
const useValues: Readonly<Record<Book['use'], number>> = {
  'daily reading': 1,
  teaching: 0.8,
  reference: 0.6,
  'occasional reading': 0.5,
  display: 0.3,
};

const active: ReadonlySet<string> = new Set(['mould', 'insects', 'red rot']);
const decayWords = ['sound: no need', 'good: low need', 'fair: medium need', 'poor or still getting worse: high need'];

/**
 * Excellent, good, fair, poor by the worst finding; need rises one step as the grade falls one step (Blanton Museum of Art, UT Austin).
 * Mould, insects and red rot go on by themselves and count as poor (Wellcome Collection: actively deteriorating).
 */
function decayOf(findings: readonly Finding[]): number {
  let worst = 0;
  for (const finding of findings) worst = Math.max(worst, gradeOf(finding));
  return worst / 3;
}

function gradeOf(finding: Finding): number {
  return active.has(finding.damage) ? 3 : finding.severity;
}

/** Share of the damage, weighed by severity, that some step of the proposal answers. The workshop's own rule. */
function benefitOf(findings: readonly Finding[], proposal: Proposal): number {
  if (findings.length === 0 || proposal.steps.length === 0) return 0;
  let all = 0;
  let answered = 0;
  for (const finding of findings) {
    all += finding.severity;
    const words = `${finding.part} ${finding.damage} (`;
    if (proposal.steps.some((step) => step.why.includes(words))) answered += finding.severity;
  }
  return answered / all;
}

function benefitWhy(benefit: number): string {
  return `treatment answers ${Math.round(benefit * 100)} % of the damage`;
}

/** The book's own facts, led by the part that weighs most; in the order of `partNames`. */
function reasonsOf(book: Book, findings: readonly Finding[], proposal: Proposal): readonly string[] {
  const settled = settledWhy(book);
  if (settled !== null) return [settled];
  if (findings.length === 0) {
    return [isSurveyed(book, findings) ? 'Nothing was found.' : 'Survey it first: nothing is known of its damage.'];
  }
  const damage = worstWords(findings);
  if (proposal.steps.length === 0) return [`${capital(damage)}; nothing of it is treated on this bench.`];
  const facts = `${damage}; ${minutesWords(proposal.minutes.likely)} ${mendWords(benefitOf(findings, proposal))}.`;
  const plain = capital(facts);
  const significance = book.significance === 0 ? plain : `${capital(significanceWhy(book))}: ${facts}`;
  return [significance, plain, `For ${book.use}: ${facts}`, plain];
}

/** The worst finding in words, and the next where it is as bad: "joints split, spine missing". */
function worstWords(findings: readonly Finding[]): string {
  let worst: Finding | undefined;
  let next: Finding | undefined;
  for (const finding of findings) {
    if (worst === undefined || gradeOf(finding) > gradeOf(worst)) {
      next = worst;
      worst = finding;
    } else if (next === undefined || gradeOf(finding) > gradeOf(next)) next = finding;
  }
  if (worst === undefined) return '';
  const first = findingWords(worst);
  if (next === undefined || gradeOf(next) !== gradeOf(worst)) return first;
  const alike = next.part === worst.part && !things.has(next.damage) && !things.has(worst.damage);
  return alike ? `${first} and ${next.damage}` : `${first}, ${findingWords(next)}`;
}

function findingWords({ part, damage, severity }: Finding): string {
  if (things.has(damage)) return `${damage} on the ${part}`;
  const grade = severity === 2 || whole.has(damage) ? '' : severity === 1 ? 'slightly ' : 'badly ';
  return `${part} ${grade}${damage}`;
}

/** Damage that is a thing of its own, rather than how a part is. */
const things: ReadonlySet<string> = new Set(['mould', 'insects', 'red rot', 'old repair', 'failed adhesive']);
/** Damage that is there or not. */
const whole: ReadonlySet<string> = new Set(['missing', 'detached']);

function mendWords(benefit: number): string {
  if (benefit > 0.995) return 'puts it right';
  if (benefit >= 0.5) return 'puts most of it right';
  return benefit > 0 ? 'puts part of it right' : 'keeps it from harm';
}

/** The place of the part that weighs most, the first of equals. */
function strongest(parts: readonly PriorityPart[]): number {
  let first = 0;
  for (const [place, part] of parts.entries()) {
    const best = parts[first];
    if (best !== undefined && part.weight * part.value > best.weight * best.value) first = place;
  }
  return first;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** What the list shows of a book, all derived from its description and survey. */
export type Assessment = Readonly<{
  score: number;
  minutes: ThreePoint;
  waitMinutes: number;
  level: Level;
  suggestedFate: Fate;
  /** The first of what speaks for the book, under these weights. */
  reason: string;
  /** As in `Priority`; the hazard alone while one is open. */
  reasons: readonly string[];
  hazardOpen: boolean;
  operations: readonly string[];
  priority: Priority;
  proposal: Proposal;
}>;

/** Everything the shelf derives of one book, in well under a tenth of a millisecond. */
export function assess(
  book: Book,
  findings: readonly Finding[],
  hazards: readonly Hazard[],
  weights: Weights = defaultWeights,
  effort: Effort | null = null,
  kept: KeptMeasures = {},
  library: Library = broughtLibrary,
): Assessment {
  const proposal = propose(book, findings, hazards, { effort, kept, library });
  const priority = prioritise(book, findings, proposal, weights);
  const fate = suggestFate(book, findings, proposal, hazards);
  const stop = blocks(hazards, 'plan');
  const reasons = stop === null || priority.settled !== null ? priority.reasons : [lookFirst(stop)];
  return {
    score: priority.score,
    minutes: proposal.minutes,
    waitMinutes: proposal.waitMinutes,
    level: proposal.level,
    suggestedFate: fate.fate,
    reason: (reasons.length > 1 ? reasons[strongest(priority.parts)] : reasons[0]) ?? '',
    reasons,
    hazardOpen: stop !== null,
    operations: proposal.steps.map((step) => step.operationId),
    priority,
    proposal,
  };
}

/** What keeps the book from being planned, as the first thing to do about it. */
function lookFirst(stop: string): string {
  return `Look at this first: ${stop.charAt(0).toLowerCase()}${stop.slice(1)}`;
}

/** A book's parts, each weighed and divided by its hours; their sum puts the list in order. */
export type Strengths = readonly number[];

export function strengthsOf(values: readonly number[], weights: Weights, minutes: number): Strengths {
  return partNames.map((name, part) => (weightOf(weights, name) * (values[part] ?? 0)) / hoursOf(minutes));
}

/**
 * Share of neighbours on the list whose order no change of every weight by up to `share` either way turns round. One book stays above
 * another when the weighted sum of their differences keeps its sign at its least: exact for every pair, with no sampling. Books alike in
 * everything keep their order, since that of their ids does not change.
 */
export function neighboursKept(ranked: readonly Strengths[], share = 0.2): number {
  let kept = 0;
  for (let place = 0; place + 1 < ranked.length; place++) {
    const [one = [], other = []] = [ranked[place], ranked[place + 1]];
    if (surelyAbove(one, other, share) || one.every((value, part) => value === other[part])) kept++;
  }
  return ranked.length > 1 ? kept / (ranked.length - 1) : 1;
}

/** The ranks, from 1, between which the book at `place` stays whatever the weights within `share` of their own. */
export function rankRange(
  ranked: readonly Strengths[],
  place: number,
  share = 0.2,
): Readonly<{ best: number; worst: number }> {
  let above = 0;
  let below = 0;
  const own = ranked[place] ?? [];
  for (const [at, other] of ranked.entries()) {
    if (at === place) continue;
    const same = other.every((value, part) => value === own[part]);
    if (same ? at < place : surelyAbove(other, own, share)) above++;
    else if (same || surelyAbove(own, other, share)) below++;
  }
  return { best: above + 1, worst: ranked.length - below };
}

function surelyAbove(one: Strengths, other: Strengths, share: number): boolean {
  let least = 0;
  for (let part = 0; part < one.length; part++) {
    const difference = (one[part] ?? 0) - (other[part] ?? 0);
    least += difference - share * Math.abs(difference);
  }
  return least > 1e-12;
}
