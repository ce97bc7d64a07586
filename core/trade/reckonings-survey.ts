import { ok, refuse } from '../result.ts';
import { sampleSize } from '../triage/sample.ts';
import { readNumber } from '../units/numbers.ts';
import { type Calculation, calculation, number, optionalCount, text } from './calculation.ts';
import { levelByMinutes, sharesOf } from './survey.ts';

/** Calculations for going through a shelf. */

/** So many books that the correction for a small shelf no longer tells. */
const endlessShelf = 1e12;

export const surveyCalculations: readonly Calculation[] = [
  calculation({
    id: 'sample',
    title: 'Books to draw for a survey',
    group: 'Survey',
    about: 'How many books, drawn by chance, tell the share of a whole shelf (M. C. Drott 1969).',
    fields: {
      confidence: number('How sure', '95', '%'),
      share: number('Share expected', '50', '%', 'half when nothing is known'),
      margin: number('Off by at most', '5', '%'),
      shelf: optionalCount('Books there are', 'empty for a very large shelf'),
    },
    reckon({ confidence, share, margin, shelf }) {
      if (shelf !== undefined && shelf < 1) return refuse('A shelf has at least one book.', 'shelf');
      const wish = { confidence: confidence / 100, share: share / 100, margin: margin / 100 };
      const sample = sampleSize(wish, shelf ?? endlessShelf);
      if (!sample.ok) return sample;
      const { books, endless, exact } = sample.value;
      return ok({
        figures: [{ label: 'Books to draw', value: books, unit: '' }],
        working: [
          {
            label: 'Without end',
            formula: 'z² × share × (1 − share) ÷ margin²',
            value: endless,
            unit: '',
            source: 'M. C. Drott, College & Research Libraries, 1969',
          },
          ...(shelf === undefined
            ? []
            : [
                {
                  label: 'For this shelf',
                  formula: 'n ÷ (1 + (n − 1) ÷ books)',
                  value: exact,
                  unit: '' as const,
                  source: 'CoOL, cdl 1991/0055',
                },
              ]),
        ],
        remarks: [
          'Rounded up; lists that round to the nearest print 384 for 95 per cent, half, five per cent.',
          'Good only for books drawn by chance: not the first of each shelf.',
        ],
      });
    },
  }),
  calculation({
    id: 'shares',
    title: 'Shares of a count',
    group: 'Survey',
    about: 'What share each kind has in what was counted, to a tenth of a per cent.',
    fields: { counts: text('Counts', '3810, 4864, 240, 12', 'one after another, with commas or spaces') },
    reckon({ counts }) {
      const words = counts.split(/[,;\s]+/).filter((word) => word !== '');
      if (words.length > 40) return refuse('Forty counts at a time are enough.', 'counts');
      const read: number[] = [];
      for (const word of words) {
        const one = readNumber(word);
        if (!one.ok) return refuse(one.refusal.sentence, 'counts');
        read.push(one.value);
      }
      const shares = sharesOf(read);
      if (!shares.ok) return shares;
      const { total, percent } = shares.value;
      return ok({
        figures: [
          { label: 'Altogether', value: total, unit: '' },
          ...percent.map((share, place) => ({ label: `${read[place] ?? 0}`, text: `${share.toFixed(1)} %` })),
        ],
      });
    },
  }),
  calculation({
    id: 'level',
    title: 'Level of a treatment',
    group: 'Survey',
    about:
      'Level by time at the bench: a quarter of an hour, two hours (ARL, as the University of Arkansas and Duke University apply it).',
    fields: { minutes: number('At the bench', '40', 'min') },
    reckon({ minutes }) {
      const level = levelByMinutes(minutes);
      if (!level.ok) return level;
      return ok({
        figures: [{ label: 'Level', value: level.value, unit: '' }],
        remarks: ['At exactly 15 minutes the published wordings differ; here it is level 1.'],
      });
    },
  }),
];
