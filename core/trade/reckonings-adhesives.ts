import { ok, refuse } from '../result.ts';
import {
  adhesiveForArea,
  batchFromWater,
  batchOf,
  dilute,
  mixByParts,
  publishedPressTimes,
  recipes,
  reversibility,
  startingCoverage,
  strengthLeft,
} from './adhesive.ts';
import {
  type Calculation,
  calculation,
  choice,
  count,
  type Figure,
  length,
  line,
  number,
  text,
} from './calculation.ts';
import { batchForDay, readJobs } from './day-batch.ts';
import type { Step } from './working.ts';

/** Calculations on paste and glue. */

export const adhesiveCalculations: readonly Calculation[] = [
  calculation({
    id: 'batch',
    title: 'Batch of paste or methylcellulose',
    group: 'Adhesives',
    about: 'Dry stuff and water after the Library of Congress 2015, Harvard 1995 and V&A recipes.',
    fields: {
      recipe: choice('Recipe', Object.keys(recipes) as (keyof typeof recipes)[], 'wheat paste'),
      given: choice('Given', ['water, mL', 'finished, g'], 'water, mL'),
      amount: number('How much', '200'),
    },
    reckon({ recipe, given, amount }) {
      const batch = given === 'water, mL' ? batchFromWater(recipe, amount) : batchOf(recipe, amount);
      if (!batch.ok) return refuse(batch.refusal.sentence, 'amount');
      const { dryG, waterMl, recipe: full, working, cautions } = batch.value;
      return ok({
        figures: [
          { label: 'Dry', value: dryG, unit: 'g' },
          { label: 'Water', value: waterMl, unit: 'mL' },
          ...full.steps.map((step, place) => ({ label: `Step ${place + 1}`, text: step })),
          { label: 'Undone by', text: full.undoneBy },
        ],
        working,
        remarks: [full.keeping, ...cautions],
      });
    },
  }),
  calculation({
    id: 'day-batch',
    title: 'Batch for a day',
    group: 'Adhesives',
    about:
      'What to cook for the surfaces a day pastes: recipes and keeping by their sources, coverage and what pot and brush keep common practice, no source.',
    fields: {
      jobs: text(
        'Surfaces to paste, one a line',
        'Spine piece, outside: 234 x 96 mm\nLinings: 184 x 62 mm, 2\nPaste-downs: 190 x 125 mm, 2',
        'name: high × wide, how many',
      ),
      recipe: choice('Recipe', Object.keys(recipes) as (keyof typeof recipes)[], 'wheat paste'),
      water: number('Thinned with, parts of water to one', '1/2'),
      lost: number('Lost in brush and pot', '25', '%'),
      least: number('Least worth cooking', '60', 'g', 'common practice, no source'),
      made: line('Made on', '', 'year-month-day, for the day it is to be thrown away'),
    },
    reckon({ jobs, recipe, water, lost, least, made }, { unit }) {
      const read = readJobs(jobs, unit);
      if (!read.ok) return refuse(read.refusal.sentence, 'jobs');
      const day = batchForDay(read.value, {
        recipe,
        waterParts: water,
        lostShare: lost / 100,
        leastG: least,
        madeOn: made,
      });
      if (!day.ok) return day;
      const { wetG, cookedG, leftOverG, batch, keepsDays, goodUntil, working } = day.value;
      const [soonest, latest] = keepsDays;
      const days = soonest === latest ? `about ${soonest} days` : `${soonest} to ${latest} days`;
      const surfaces = read.value.map(
        ({ name, heightMm, widthMm, count: times }): Step => ({
          label: name,
          formula: times === 1 ? 'high × wide' : `high × wide × ${times}`,
          value: (heightMm * widthMm * times) / 100,
          unit: 'cm²',
        }),
      );
      return ok({
        figures: [
          { label: 'Dry', value: batch.dryG, unit: 'g' },
          { label: 'Water to cook it in', value: batch.waterMl, unit: 'mL' },
          { label: 'Cooked', value: cookedG, unit: 'g' },
          { label: 'Ready to brush on', value: wetG, unit: 'g' },
          { label: 'Left over, cooked', value: leftOverG, unit: 'g' },
          {
            label: 'Good',
            text: goodUntil === null ? days : `${days}: until ${[...new Set(goodUntil)].join(', at the latest ')}`,
          },
          { label: 'Undone by', text: batch.recipe.undoneBy },
        ],
        working: [...surfaces, ...working],
        remarks: [...batch.recipe.steps, batch.recipe.keeping, ...batch.cautions],
      });
    },
  }),
  calculation({
    id: 'dilute',
    title: 'Thinning',
    group: 'Adhesives',
    about: 'Stock and water for a weaker solution; strength times volume stays, volumes taken to add.',
    fields: {
      stock: number('Strength of the stock', '5', '%'),
      strength: number('Strength wanted', '2', '%'),
      volume: number('Volume wanted', '100', 'mL'),
    },
    reckon({ stock, strength, volume }) {
      const mixed = dilute(stock, strength, volume);
      if (!mixed.ok) return mixed;
      const { stockMl, waterMl, working } = mixed.value;
      return ok({
        figures: [
          { label: 'Stock', value: stockMl, unit: 'mL' },
          { label: 'Water', value: waterMl, unit: 'mL' },
        ],
        working,
      });
    },
  }),
  calculation({
    id: 'thinned',
    title: 'Water added',
    group: 'Adhesives',
    about: 'What is left of the strength when water is stirred in; volumes taken to add.',
    fields: {
      strength: number('Strength', '14.25', '%'),
      water: number('Parts of water to one', '1', '', 'an eighth is 1/8'),
    },
    reckon({ strength, water }) {
      const left = strengthLeft(water);
      if (!left.ok) return left;
      if (!(strength > 0 && strength <= 100))
        return refuse('A strength is more than nothing and at most 100 per cent.', 'strength');
      return ok({
        figures: [
          { label: 'Strength left', value: strength * left.value, unit: '%' },
          { label: 'Share of the former', value: 100 * left.value, unit: '%' },
        ],
      });
    },
  }),
  calculation({
    id: 'mix',
    title: 'Mix of two adhesives',
    group: 'Adhesives',
    about: 'Weights for a mix by parts; mix only what the day needs (J. C. Thompson, 1997).',
    fields: {
      first: number('Parts of the first', '3'),
      second: number('Parts of the second', '1'),
      total: number('Altogether', '200', 'g'),
    },
    reckon({ first, second, total }) {
      const mixed = mixByParts({ first, second }, total);
      if (!mixed.ok) return refuse(mixed.refusal.sentence, mixed.refusal.field === 'total' ? 'total' : 'first');
      return ok({
        figures: [
          { label: 'First', value: mixed.value.first, unit: 'g' },
          { label: 'Second', value: mixed.value.second, unit: 'g' },
        ],
        remarks: ['A mix is as hard to undo as its harder part.'],
      });
    },
  }),
  calculation({
    id: 'coverage',
    title: 'Adhesive for an area',
    group: 'Adhesives',
    about: 'Wet adhesive for a surface. No published coverage was found: start here, then use what your bench uses up.',
    fields: {
      adhesive: choice('Adhesive', Object.keys(startingCoverage) as (keyof typeof startingCoverage)[], 'paste'),
      height: length('High', '230 mm'),
      width: length('Wide', '330 mm'),
      count: count('How many', '1'),
      lost: number('Lost in brush and pot', '25', '%'),
    },
    reckon({ adhesive, height, width, count: pieces, lost }) {
      const needed = adhesiveForArea(height * width * pieces, startingCoverage[adhesive], lost / 100);
      if (!needed.ok) return refuse(needed.refusal.sentence, needed.refusal.field === 'lost' ? 'lost' : 'height');
      const known = reversibility[adhesive];
      return ok({
        figures: [
          { label: 'Adhesive', value: needed.value.grams, unit: 'g' },
          ...(known === undefined ? [] : [{ label: 'Undone by', text: known.undoneBy }]),
        ],
        working: needed.value.working,
      });
    },
  }),
  calculation({
    id: 'press-times',
    title: 'Pressing and drying',
    group: 'Adhesives',
    about: 'What books say of pressing and drying, with who says it; most say only till dry.',
    fields: {
      job: choice(
        'Job',
        publishedPressTimes.map((one) => one.job),
        'tipped leaf under weight',
      ),
    },
    reckon({ job }) {
      const found = publishedPressTimes.filter((one) => one.job === job);
      const figures = found.flatMap(({ minutes: [least, most], source }): Figure[] => [
        { label: 'At least', value: least, unit: 'min' },
        most === undefined ? { label: 'At most', text: 'till dry' } : { label: 'At most', value: most, unit: 'min' },
        { label: 'Source', text: source },
      ]);
      return ok({ figures });
    },
  }),
];
