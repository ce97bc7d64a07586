/**
 * The fates of invented books decided together: `npm run -s measure -- fates --books 1000 --seed 1 [--needs 40] [--materials 60]`. Prints
 * one JSON line: whether the plan is proven, how far from the bound it may be, and the seconds it took.
 */
import { parseArgs } from 'node:util';
import { type Book, completenesses, damages, type Finding, parts, scarcities, uses } from '../../core/book/book.ts';
import { raiseHazards } from '../../core/book/hazards.ts';
import { type Chance, chanceFrom } from '../../core/schedule/random.ts';
import { type CourseNeed, decideFates, type FateBook, fateBook } from '../../core/triage/fates.ts';
import { assess } from '../../core/triage/priority.ts';
import { loadSolver } from '../../electron/engines/highs.ts';

export async function measure(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      books: { type: 'string', default: '1000' },
      seed: { type: 'string', default: '1' },
      needs: { type: 'string', default: '40' },
      materials: { type: 'string', default: '60' },
      hours: { type: 'string', default: '400' },
    },
  });
  const [books, seed, needs, materials, hours] = [
    values.books,
    values.seed,
    values.needs,
    values.materials,
    values.hours,
  ].map(Number);
  if (![books, seed, needs, materials, hours].every((number) => Number.isInteger(number) && (number ?? -1) >= 0)) {
    console.error('Say whole numbers: npm run -s measure -- fates --books 1000 --seed 1');
    process.exitCode = 2;
    return;
  }
  const { shelf, courseNeeds, wreckMaterials } = invented(
    books ?? 0,
    needs ?? 0,
    materials ?? 0,
    chanceFrom(seed ?? 0),
  );
  const solve = await loadSolver();
  const started = performance.now();
  const fates = await decideFates(
    shelf,
    { handMinutes: (hours ?? 0) * 60, courseNeeds, materials: wreckMaterials },
    solve,
  );
  const seconds = (performance.now() - started) / 1000;
  const counts: Record<string, number> = {};
  for (const { fate } of fates.decisions) counts[fate] = (counts[fate] ?? 0) + 1;
  console.log(
    JSON.stringify({
      engine: 'fates',
      books,
      seed,
      needs,
      materials,
      status: fates.status === 'best' ? 'optimal' : 'stopped',
      gap: fates.gap === null ? null : Math.round(fates.gap * 1e6) / 1e6,
      seconds: Math.round(seconds * 1000) / 1000,
      worth: Math.round(fates.worth * 100) / 100,
      bound: Math.round(fates.bound * 100) / 100,
      usedMinutes: fates.usedMinutes,
      shortCopies: fates.short.reduce((sum, { copies }) => sum + copies, 0),
      fates: counts,
    }),
  );
}

const taught = [
  'tip in',
  'mend tears',
  'tighten hinges',
  'corner repair',
  'reback in cloth',
  'recase',
  'resew',
  'reline',
  'new endpapers',
  'surface clean',
  'guard sections',
  'rejoint',
  'make case',
  'mend hinge',
];

function invented(
  books: number,
  needs: number,
  materials: number,
  chance: Chance,
): Readonly<{
  shelf: readonly FateBook[];
  courseNeeds: readonly CourseNeed[];
  wreckMaterials: readonly Readonly<{ id: string; name: string; onHand: number }>[];
}> {
  const pick = <Item>(from: readonly Item[]): Item => from[Math.floor(chance() * from.length)] as Item;
  const courseNeeds = Array.from(
    { length: needs },
    (_, index): CourseNeed => ({
      id: `need ${index}`,
      operationId: taught[index % taught.length] ?? '',
      level: (['newcomer', 'improver', 'journeyman'] as const)[Math.floor(index / taught.length) % 3] ?? 'improver',
      copies: 1 + Math.floor(chance() * 6),
    }),
  );
  const wreckMaterials = Array.from({ length: materials }, (_, index) => ({
    id: `material ${index}`,
    name: `old cloth ${index}`,
    onHand: chance() < 0.4 ? Math.round(chance() * 400) : 0,
  }));
  const amounts = (share: number, most: number) =>
    materials > 0 && chance() < share
      ? [{ materialId: pick(wreckMaterials).id, quantity: Math.round(20 + chance() * most) }]
      : [];
  const shelf = Array.from({ length: books }, (_, index) => {
    const one = inventedBook(index, pick, chance);
    const findings = Array.from(
      { length: Math.floor(chance() * 7) },
      (): Finding => ({
        part: pick(parts),
        damage: pick(damages.slice(0, chance() < 0.05 ? damages.length : 16)),
        severity: pick([1, 1, 2, 2, 3]),
        count: null,
        note: '',
      }),
    );
    const hazards = raiseHazards(one, findings).map((hazard) => ({
      ...hazard,
      state: pick(['raised', 'confirmed', 'cleared'] as const),
    }));
    const assessed = assess(one, findings, hazards);
    return fateBook(one, hazards, assessed, courseNeeds, {
      wants: amounts(0.35, 250),
      gives: [...amounts(0.8, 600), ...amounts(0.5, 600)],
    });
  });
  return { shelf, courseNeeds, wreckMaterials };
}

function inventedBook(index: number, pick: <Item>(from: readonly Item[]) => Item, chance: Chance): Book {
  const year = 1800 + Math.floor(chance() * 130);
  const fateLocked = chance() < 0.05;
  return {
    id: `book ${index}`,
    shelfMark: null,
    title: `Invented ${index}`,
    author: '',
    imprint: '',
    dateText: String(year),
    yearFrom: year,
    yearTo: year,
    format: pick(['8vo', 'crown 8vo', 'demy 8vo', '12mo', '4to']),
    heightMm: 150 + Math.floor(chance() * 150),
    widthMm: 100 + Math.floor(chance() * 100),
    thicknessMm: 10 + Math.floor(chance() * 50),
    pages: 100 + Math.floor(chance() * 500),
    pagesText: '',
    binding: pick([
      'cloth case',
      'cloth case',
      'cloth case',
      'half cloth',
      'paper boards',
      'quarter leather',
      'half leather',
      'full leather',
    ]),
    colour: pick(['red', 'brown', 'dark blue', 'green', 'dark green', 'black']),
    pattern: null,
    lotId: null,
    placeId: null,
    fate: fateLocked ? pick(['restore', 'practice', 'leave']) : null,
    fateLocked,
    stage: 'surveyed',
    use: pick(uses),
    significance: pick([0, 0, 0, 0, 1, 1, 2, 3]),
    scarcity: pick(['common', 'common', 'common', ...scarcities]),
    completeness: pick(completenesses),
    note: '',
  };
}
