import { ok, refuse } from '../result.ts';
import { formatInches, formatMm } from '../units/lengths.ts';
import {
  type Calculation,
  calculation,
  choice,
  count,
  type Figure,
  length,
  number,
  optionalCount,
  optionalLength,
  text,
} from './calculation.ts';
import { drawLettering, drawPanels } from './drawing-covers.ts';
import { drawStations } from './drawing-sheets.ts';
import { dividePanels, fitLettering, goldForArea, usualLeading, usualPanels } from './panels.ts';
import {
  bandsForBook,
  economyBindingAllowed,
  endpaperStations,
  leaFromMetric,
  leafAttachment,
  leavesPerOversewnSection,
  linenThread,
  sectionsForPages,
  sewingStations,
  stitchesPerSection,
  tapeLength,
  tapesForHeight,
  threadForSections,
  threadLength,
} from './sewing.ts';
import type { Step } from './working.ts';

/** Calculations on sewing and finishing. */

const inMm = (label: string, value: number): Figure => ({ label, value, unit: 'mm' });

export const makingCalculations: readonly Calculation[] = [
  calculation({
    id: 'sections',
    title: 'Sections and thread',
    group: 'Sewing',
    about:
      'Sections for so many pages, a thread to begin with (Cockerell 1901; J. Peachey 2019), and an estimate of its length.',
    fields: {
      pages: count('Pages', '320'),
      section: count('Folded sheets to a section', '4', 'four sheets are sixteen pages'),
      height: length('Height', '190 mm'),
      thickness: length('Thickness', '25 mm'),
      sewn: choice('Sewn', ['all along', 'two on'], 'all along'),
    },
    reckon({ pages, section, height, thickness, sewn }) {
      const made = sectionsForPages(pages, section);
      if (!made.ok) return made;
      const each = thickness / made.value.sections;
      const chosen = threadForSections(made.value.sections, each);
      if (!chosen.ok) return chosen;
      const thread = linenThread(chosen.value.lea, chosen.value.plies);
      const tapes = tapesForHeight(height);
      if (!thread.ok) return thread;
      if (!tapes.ok) return tapes;
      const needed = threadLength({
        heightMm: height,
        sections: made.value.sections,
        sectionThicknessMm: each,
        supports: tapes.value,
        sewn,
      });
      if (!needed.ok) return needed;
      return ok({
        figures: [
          { label: 'Sections', value: made.value.sections, unit: '' },
          { label: 'Blank pages', value: made.value.blanks, unit: '' },
          {
            label: 'Thread',
            text: `${chosen.value.lea}/${chosen.value.plies} linen, about ${formatMm(thread.value.diameterMm)} thick`,
          },
          { label: 'Stitches to a section', value: stitchesPerSection(tapes.value, sewn), unit: '' },
          { label: 'Length of thread', value: needed.value.metres, unit: 'm' },
        ],
        working: needed.value.working,
        remarks: thread.value.remarks,
      });
    },
  }),
  calculation({
    id: 'stations',
    title: 'Sewing stations',
    group: 'Sewing',
    about:
      'Holes from the head; tapes by height after Bailey 1916, bands after Cockerell 1901, endpapers after the Indiana University manual.',
    fields: {
      height: length('Height', '190 mm'),
      thickness: length('Thickness', '25 mm'),
      support: choice('Sewn on', ['tapes', 'cords', 'none', 'endpapers only'], 'tapes'),
      supports: optionalCount('How many', 'by the size of the book when left empty'),
      over: optionalLength('Over the back', 'for the length of the tapes; the thickness when left empty'),
      use: choice('It is', ['a reading book', 'a book of reference'], 'a reading book'),
    },
    reckon({ height, thickness, support, supports, over, use }) {
      if (support === 'endpapers only') {
        const holes = endpaperStations(height);
        if (!holes.ok) return holes;
        const stations = holes.value.map((fromHeadMm) => ({ fromHeadMm, hole: 'link' as const }));
        return ok({
          figures: holes.value.map((at, place) => inMm(`Hole ${place + 1}`, at)),
          drawing: drawStations(height, stations),
        });
      }
      const usual =
        support === 'cords' ? bandsForBook({ heightMm: height, thicknessMm: thickness }) : tapesForHeight(height);
      if (!usual.ok) return usual;
      const made = sewingStations(height, supports ?? usual.value, support);
      if (!made.ok) return made;
      const { stations, working } = made.value;
      const tape = tapeLength(over ?? thickness, use);
      if (!tape.ok) return refuse(tape.refusal.sentence, over === undefined ? 'thickness' : 'over');
      const reach: Step = {
        label: 'Each tape, glued down',
        formula: 'over the back + what lies on both endpapers',
        value: tape.value.glued,
        unit: 'mm',
        source: 'Bailey 1916, spec. 21; reference-book specification 1 and 6',
      };
      return ok({
        figures: [
          ...stations.map(({ fromHeadMm, hole }, place) => inMm(`Hole ${place + 1}, ${hole}`, fromHeadMm)),
          ...(support === 'tapes' ? [inMm('Each tape, cut at least', tape.value.cut)] : []),
        ],
        working: support === 'tapes' ? [...working, reach] : working,
        drawing: drawStations(height, stations),
      });
    },
  }),
  calculation({
    id: 'leaf-attachment',
    title: 'How to hold the leaves',
    group: 'Sewing',
    about: 'Sew, double-fan, oversew or split: decision tree 2 of Merrill-Oldham and Parisi 2008.',
    fields: {
      thickness: length('Thickness', '30 mm'),
      sewing: choice('Sewing', ['sound', 'loose sections, folds sound', 'no'], 'no'),
      margin: length('Binding margin', '12 mm'),
      flat: choice('Must lie flat', ['no', 'yes, as music'], 'no'),
      caliper: length('One leaf', '0.1 mm', 'its thickness'),
      paper: choice('Paper', ['normal', 'bulky'], 'normal'),
    },
    reckon({ thickness, sewing, margin, flat, caliper, paper }) {
      const answer = leafAttachment({
        thicknessMm: thickness,
        sewn: sewing,
        bindingMarginMm: margin,
        mustLieFlat: flat !== 'no',
      });
      if (!answer.ok) return answer;
      const leaves = leavesPerOversewnSection(caliper, paper);
      if (!leaves.ok) return leaves;
      return ok({
        figures: [
          { label: 'Then', text: answer.value.attachment },
          { label: 'Leaves to an oversewn section', value: leaves.value, unit: '' },
          {
            label: 'Economy binding',
            text: economyBindingAllowed(thickness) ? 'allowed' : 'not over 15.9 mm (5/8 in)',
          },
        ],
        remarks: [answer.value.because],
      });
    },
  }),
  calculation({
    id: 'thread',
    title: 'Thread by its count',
    group: 'Sewing',
    about:
      'Weight and length of linen thread from its count: exact by definition; the thickness reckoned for flax packed to six tenths.',
    fields: {
      system: choice('Counted in', ['lea', 'metric'], 'lea'),
      count: number('Count', '25'),
      plies: count('Plies', '3'),
    },
    reckon({ system, count: given, plies }) {
      const metric = system === 'metric' ? leaFromMetric(given) : undefined;
      if (metric !== undefined && !metric.ok) return metric;
      const lea = metric?.value.lea ?? given;
      const thread = linenThread(lea, plies);
      if (!thread.ok) return refuse(thread.refusal.sentence, thread.refusal.field === 'plies' ? 'plies' : 'count');
      const { tex, metresPerKg, yardsPerPound, diameterMm, remarks } = thread.value;
      return ok({
        figures: [
          { label: 'Lea', value: lea, unit: '' },
          { label: 'Weight', value: tex, unit: 'tex' },
          { label: 'Length', text: `${Math.round(metresPerKg)} m/kg, ${Math.round(yardsPerPound)} yd/lb` },
          inMm('Thickness, about', diameterMm),
        ],
        remarks: [...(metric?.value.remarks ?? []), ...remarks],
      });
    },
  }),
  calculation({
    id: 'panels',
    title: 'Bands and panels',
    group: 'Finishing',
    about:
      'One panel more than bands, the tail longer (Cockerell 1901, ch. VII); the head a trifle longer on an octavo.',
    fields: {
      height: length('Back, head to tail', '196 mm'),
      width: length('Back, wide', '40 mm'),
      bands: count('Bands', '5'),
      band: length('Band', '4 mm', 'its width'),
    },
    reckon({ height, width, bands, band }) {
      const divided = dividePanels(height, bands, { ...usualPanels, bandMm: band });
      if (!divided.ok) return divided;
      if (!(width > 0)) return refuse('A back needs a width.', 'width');
      const { heightsMm, working } = divided.value;
      return ok({
        figures: heightsMm.map((mm, place) =>
          inMm(place === 0 ? 'Head panel' : place === bands ? 'Tail panel' : `Panel ${place + 1}`, mm),
        ),
        working,
        drawing: drawPanels(width, divided.value),
      });
    },
  }),
  calculation({
    id: 'lettering',
    title: 'Lettering that fits',
    group: 'Finishing',
    about:
      'The largest lettering of a title in a panel, broken between words where that helps; from the measured widths of the letter.',
    fields: {
      title: text('Title', 'THE HISTORY OF A TOWN'),
      width: length('Panel, wide', '36 mm'),
      height: length('Panel, high', '28 mm'),
      margin: length('Margin', '3 mm'),
    },
    reckon({ title, width, height, margin }, { glyphs }) {
      if (glyphs === undefined) return refuse('The widths of the letter have not been measured.');
      const fitted = fitLettering(title, { widthMm: width, heightMm: height, marginMm: margin }, glyphs);
      if (!fitted.ok) return fitted;
      const { sizeMm, lines } = fitted.value;
      return ok({
        figures: [
          inMm('Size of the letter', sizeMm),
          inMm('Capitals', sizeMm * glyphs.capHeight),
          ...lines.map((line, place) => ({
            label: `Line ${place + 1}`,
            text: `${line.text}, ${formatMm(line.widthMm)} (${formatInches(line.widthMm)})`,
          })),
        ],
        drawing: drawLettering({ widthMm: width, heightMm: height }, lines, sizeMm * glyphs.capHeight, usualLeading),
      });
    },
  }),
  calculation({
    id: 'gold',
    title: 'Gold leaf',
    group: 'Finishing',
    about:
      'Leaves and books of gold for an area; book sizes after Cockerell 1901 and Roberts & Etherington 1982, a third lost, no source.',
    fields: {
      length: length('Length', '190 mm'),
      width: length('Width', '30 mm'),
      book: choice('Book of gold', ['trade', 'english'], 'trade'),
    },
    reckon(values) {
      const gold = goldForArea(values.length * values.width, values.book);
      if (!gold.ok) return refuse(gold.refusal.sentence, 'length');
      return ok({
        figures: [
          { label: 'Leaves', value: gold.value.leaves, unit: '' },
          { label: 'Books', value: gold.value.books, unit: '' },
        ],
      });
    },
  }),
];
