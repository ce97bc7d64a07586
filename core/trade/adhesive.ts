import { ok, type Result, refuse } from '../result.ts';
import { noSource, type Step } from './working.ts';

/**
 * Adhesives: what goes into a batch, thinning, mixing, how far it goes, how long it keeps and what undoes it. Weights in grams to millilitres
 * of water, as the recipes give them; w/v strengths are treated as if volumes added.
 */

export type RecipeName = keyof typeof recipes;

type Recipe = Readonly<{
  title: string;
  /** Grams of dry stuff to each 100 mL of water. */
  gramsPer100mL: number;
  steps: readonly string[];
  /** Days it keeps, from the shortest to the longest source; refrigerated where the longest says so. */
  keepsDays: readonly [number, number];
  keeping: string;
  undoneBy: string;
  source: string;
}>;

const pasteKeeping =
  'A week in a cool dark place (Metropolitan Museum) to 20 days refrigerated (Harvard); throw out sour or thin paste.';

export const recipes = {
  'wheat paste': {
    title: 'Wheat starch paste',
    gramsPer100mL: (57 / 400) * 100,
    steps: [
      'Stand at least 30 min, better overnight.',
      'Cook at least 15 min until thick and translucent.',
      'Sieve, and thin before use.',
    ],
    keepsDays: [7, 20],
    keeping: pasteKeeping,
    undoneBy: 'water',
    source: 'Library of Congress 2015, in BPG Adhesive Recipes and Tips: 57 g to 400 mL',
  },
  'wheat paste, thin': {
    title: 'Wheat starch paste, Harvard',
    gramsPer100mL: (65 / 500) * 100,
    steps: [
      'Soak 20 min in water at pH 8.5.',
      'Cook 20 min.',
      'Jar hot, cover with water, refrigerate.',
      'Sieve through No. 40.',
    ],
    keepsDays: [7, 20],
    keeping: pasteKeeping,
    undoneBy: 'water',
    source: 'E. Morse, Abbey Newsletter 19(5), Nov 1995: 65 g to 500 mL',
  },
  'rice paste': {
    title: 'Rice starch paste',
    // Three tablespoons (45 mL) to a cup (240 mL), weighed as 0.6 g to each mL of loose starch: common practice, no source.
    gramsPer100mL: (45 / 240) * 0.6 * 100,
    steps: [
      'Pour the water, boiling, on to the starch; whisk until smooth.',
      'Strain out lumps; it thickens as it cools.',
      'Two tablespoons to the cup for a thinner paste, four for a thicker.',
    ],
    keepsDays: [7, 20],
    keeping: pasteKeeping,
    undoneBy: 'water',
    source: 'Grafikskolen, recipe for pure rice starch paste: 3 tablespoons to 1 cup; a weak carrier, by volume only',
  },
  methylcellulose: {
    title: 'Methylcellulose, 5 per cent',
    gramsPer100mL: 5,
    steps: [
      'Stir into three quarters of the water, hot.',
      'Add the rest cold.',
      'Let it cool an hour; it clears in about 24 h.',
    ],
    keepsDays: [30, 30],
    keeping: 'About a month, not refrigerated.',
    undoneBy: 'water',
    source: 'V&A recipe as given at thebookhut.co.uk: 5 g, 75 mL hot and 25 mL cold',
  },
} as const satisfies Readonly<Record<string, Recipe>>;

export type Batch = Readonly<{
  dryG: number;
  waterMl: number;
  recipe: Recipe;
  working: readonly Step[];
  cautions: readonly string[];
}>;

/** What to weigh for a batch from so much water. */
export function batchFromWater(name: RecipeName, waterMl: number): Result<Batch> {
  if (!(waterMl >= 5 && waterMl <= 10_000)) return refuse('A batch is made with 5 mL to 10 L of water.', 'water');
  const recipe = recipes[name];
  const dryG = (recipe.gramsPer100mL * waterMl) / 100;
  return ok({
    dryG,
    waterMl,
    recipe,
    working: [
      {
        label: 'Dry',
        formula: `water × ${round(recipe.gramsPer100mL)} g to 100 mL`,
        value: dryG,
        unit: 'g',
        source: recipe.source,
      },
    ],
    cautions:
      name === 'methylcellulose'
        ? ['Hot water; stir the powder in slowly, it is slippery on a floor.']
        : ['Boiling paste spits and sticks; keep it stirred and your face away.'],
  });
}

/** What to weigh for so many grams of the finished adhesive; what boils off is made up with water. */
export function batchOf(name: RecipeName, grams: number): Result<Batch> {
  if (!(grams >= 10 && grams <= 10_000)) return refuse('A batch is 10 g to 10 kg.', 'batch');
  return batchFromWater(name, grams / (1 + recipes[name].gramsPer100mL / 100));
}

/** Stock and water for a weaker solution: strength × volume stays the same. Refuses a solution stronger than its stock. */
export function dilute(
  stockStrength: number,
  wantedStrength: number,
  wantedMl: number,
): Result<Readonly<{ stockMl: number; waterMl: number; working: readonly Step[] }>> {
  if (!(stockStrength > 0 && stockStrength <= 100 && wantedStrength > 0))
    return refuse('A strength is more than nothing and at most 100 per cent.', 'strength');
  if (wantedStrength > stockStrength)
    return refuse(`Water does not make a ${stockStrength} % stock stronger.`, 'strength');
  if (!(wantedMl > 0)) return refuse('Say how much is wanted.', 'volume');
  const stockMl = (wantedMl * wantedStrength) / stockStrength;
  return ok({
    stockMl,
    waterMl: wantedMl - stockMl,
    working: [
      { label: 'Stock', formula: 'wanted volume × wanted strength ÷ stock strength', value: stockMl, unit: 'mL' },
      { label: 'Water', formula: 'the rest', value: wantedMl - stockMl, unit: 'mL' },
    ],
  });
}

/** What share of its former strength is left when so many parts of water come to one part of the stock. */
export function strengthLeft(waterParts: number): Result<number> {
  return waterParts >= 0 ? ok(1 / (1 + waterParts)) : refuse('Water cannot be taken out again.', 'water');
}

/** A mix by parts, such as three of paste to one of PVA, made up to a total. */
export function mixByParts<Name extends string>(
  parts: Readonly<Record<Name, number>>,
  total: number,
): Result<Readonly<Record<Name, number>>> {
  const entries = Object.entries(parts) as [Name, number][];
  const sum = entries.reduce((all, [, share]) => all + share, 0);
  if (entries.length === 0 || entries.some(([, share]) => !(share >= 0)) || !(sum > 0))
    return refuse('A mix needs parts, none less than nothing.', 'parts');
  if (!(total > 0)) return refuse('Say how much of the mix is wanted.', 'total');
  return ok(Object.fromEntries(entries.map(([name, share]) => [name, (total * share) / sum])) as Record<Name, number>);
}

/**
 * Wet adhesive for an area. No published coverage was found; the figures are this program's own starting points, to be replaced by what the
 * bench uses up.
 */
export const startingCoverage = { paste: 100, methylcellulose: 90, pva: 120, 'paste and pva': 110 } as const;

/** Grams for an area with a share lost to brush and pot. */
export function adhesiveForArea(
  areaMm2: number,
  gramsPerM2: number,
  lostShare = 0.25,
): Result<Readonly<{ grams: number; working: readonly Step[] }>> {
  if (!(areaMm2 > 0)) return refuse('There is no area to glue.', 'area');
  if (!(gramsPerM2 > 0 && gramsPerM2 < 1000)) return refuse('Adhesive goes on at under 1000 g/m².', 'coverage');
  if (!(lostShare >= 0 && lostShare < 0.9)) return refuse('Less than nine tenths are lost in the pot.', 'lost');
  const grams = ((areaMm2 / 1e6) * gramsPerM2) / (1 - lostShare);
  return ok({
    grams,
    working: [
      { label: 'Area', formula: 'all pieces to be glued', value: areaMm2 / 100, unit: 'cm²' },
      {
        label: 'Adhesive',
        formula: `area × ${gramsPerM2} g/m², ${Math.round(lostShare * 100)} % lost in brush and pot`,
        value: grams,
        unit: 'g',
        source: noSource,
      },
    ],
  });
}

/** What is undone by what. The rows without a book are common practice, no source. */
export const reversibility: Readonly<Record<string, Readonly<{ undoneBy: string; source: string }>>> = {
  'wheat paste': { undoneBy: 'water, as a poultice', source: noSource },
  methylcellulose: { undoneBy: 'water', source: noSource },
  'animal glue': {
    undoneBy: 'warm water or a methylcellulose poultice of 10 to 20 min',
    source: 'Indiana University, Book Repair Manual',
  },
  pva: { undoneBy: 'nothing that is safe for paper; it swells in alcohol and softens with heat', source: noSource },
  eva: { undoneBy: 'alkaline water or alcohol for the grades sold as reversible; ask the maker', source: noSource },
  'paste and pva': { undoneBy: 'water in part; the PVA stays', source: noSource },
};

export type PressTime = Readonly<{ job: string; minutes: readonly [number, number | undefined]; source: string }>;

/** Published pressing and drying times, in minutes, from least to most; undefined where the source only says till dry. */
export const publishedPressTimes: readonly PressTime[] = [
  { job: 'tipped leaf under weight', minutes: [180, 180], source: 'Leather for Libraries, 1905' },
  { job: 'pasted and folded marbled ends', minutes: [15, 15], source: 'Zaehnsdorf 1890, p. 36' },
  { job: 'made boards in the standing press', minutes: [overnight(), overnight()], source: 'Zaehnsdorf 1897' },
  { job: 'pasted-down endpapers', minutes: [overnight(), undefined], source: 'Vaughn 1914, "till thoroughly dry"' },
  { job: 'methylcellulose poultice on a spine', minutes: [10, 20], source: 'Indiana University, Book Repair Manual' },
  { job: 'hinge tightening, first look', minutes: [60, undefined], source: 'a public library’s repair notes, 2012' },
];

/** Overnight read as twelve hours: common practice, no source. */
function overnight(): number {
  return 12 * 60;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
