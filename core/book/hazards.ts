/**
 * Hazards a book may carry, raised by rule from its date, cloth, colour and damage. Nothing here tests anything: a hazard is raised so that a
 * person looks before the book is planned, taught with or broken up, and says what was found.
 *
 * Pigments in cloth: Poison Book Project, Winterthur Museum and University of Delaware.
 */
import type { Book, Finding, Hazard } from './book.ts';

/** Hazards raised by the rules, all still undecided. What a person has decided is kept by the caller, by kind. */
export function raiseHazards(book: Book, findings: readonly Finding[]): readonly Hazard[] {
  const hazards: Hazard[] = [];
  const pigment = raisedPigment(book);
  if (pigment) hazards.push(pigment);
  let mould = false;
  let insects = false;
  let redRot = false;
  for (const finding of findings) {
    mould ||= finding.damage === 'mould';
    insects ||= finding.damage === 'insects';
    redRot ||= finding.damage === 'red rot';
  }
  if (mould) hazards.push(mouldHazard);
  if (insects) hazards.push(insectHazard);
  if (redRot) hazards.push(redRotHazard);
  return hazards;
}

/** What the book is wanted for when somebody asks whether a hazard stands in the way. */
export type Purpose = 'plan' | 'student' | 'salvage';

/**
 * Why these hazards stand in the way, as a sentence, or null where they do not. Undecided ones stop everything; confirmed ones stop students
 * always, and stop salvage where the pieces would carry the hazard into other books.
 */
export function blocks(hazards: readonly Hazard[], purpose: Purpose): string | null {
  const doing = purpose === 'plan' ? 'planned' : purpose === 'student' ? 'given to a learner' : 'broken for salvage';
  for (const hazard of hazards) {
    if (hazard.state === 'raised') {
      return `Possible ${hazard.kind}: not to be ${doing} until somebody has looked and written down what was decided.`;
    }
  }
  for (const hazard of hazards) {
    if (hazard.state !== 'confirmed') continue;
    if (purpose === 'student') return `Confirmed ${hazard.kind}: not to be given to a learner.`;
    if (purpose === 'salvage' && hazard.kind !== 'red rot') {
      return `Confirmed ${hazard.kind}: its pieces would carry it into other books.`;
    }
  }
  return null;
}

const clothBindings: ReadonlySet<string | null> = new Set([
  'cloth case',
  'quarter cloth',
  'half cloth',
  'paper boards',
]);

/** Emerald green cloth: examples from 1850 and 1852, first find an 1857 imprint, out of fashion in the 1860s; from 1840 to be careful. */
const emeraldYears = { from: 1840, to: 1869 };
const clothYears = { from: 1800, to: 1899 };

function raisedPigment(book: Book): Hazard | null {
  if (book.binding !== null && !clothBindings.has(book.binding)) return null;
  if (book.colour === '') return null;
  const colour = book.colour.toLowerCase();
  const green = colour.includes('green') || colour.includes('emerald') || colour.includes('turquoise');
  if (green && mayFall(book, emeraldYears) && !dullGreen.test(colour)) return arsenicHazard;
  if ((green || chromeColours.test(colour)) && mayFall(book, clothYears)) return leadHazard;
  return null;
}

/** A book with no date may be of any. */
function mayFall(book: Book, years: Readonly<{ from: number; to: number }>): boolean {
  const from = book.yearFrom ?? book.yearTo;
  const to = book.yearTo ?? book.yearFrom;
  return from === null || to === null || (from <= years.to && to >= years.from);
}

/** Emerald green is vivid; these words tell of another green, for which chrome yellow with blue was usual. */
const dullGreen = /\b(dark|olive|deep|bottle|blackish|grey|gray|sage)\b/;
const chromeColours = /\b(yellow|orange|ochre|old gold|mustard|chrome)\b/;

const untilLooked = 'Until somebody has looked:';
const gloved =
  'nitrile gloves, a surface that wipes clean, no eating, hands washed; in a sealed polyethylene bag when put away.';

const arsenicHazard: Hazard = {
  kind: 'arsenical green',
  state: 'raised',
  reason: `Green cloth or paper of the 1840s to 1860s may be coloured with emerald green, copper acetoarsenite, which rubs off (Poison Book Project, Winterthur and University of Delaware). ${untilLooked} ${gloved} Do not brush, rub or cut it.`,
  decision: '',
};

const leadHazard: Hazard = {
  kind: 'lead or chromium pigment',
  state: 'raised',
  reason: `Yellow, orange and green cloth of the 19th century may hold chrome yellow, which is lead and chromium; about half of the bindings analysed had lead (Poison Book Project, Winterthur and University of Delaware). ${untilLooked} ${gloved}`,
  decision: '',
};

const mouldHazard: Hazard = {
  kind: 'mould',
  state: 'raised',
  reason: `The survey found mould, which spreads and harms lungs (CCAHA, Managing a Mold Infestation). ${untilLooked} bag it apart, keep it dry, never clean it damp; mask and gloves to handle it.`,
  decision: '',
};

const insectHazard: Hazard = {
  kind: 'insects',
  state: 'raised',
  reason: `The survey found insects or their traces, and live ones move to the next shelf (common practice, no source). ${untilLooked} seal it in a bag, look for fresh dust in a fortnight.`,
  decision: '',
};

const redRotHazard: Hazard = {
  kind: 'red rot',
  state: 'raised',
  reason: `Red-rotted leather powders, and its dust is acid and irritates; water blackens it (bookarts list, June 1999; common practice). ${untilLooked} handle it in a jacket or wrapper, no brushing, hands washed.`,
  decision: '',
};
