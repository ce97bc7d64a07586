/** A few invented books put straight into the open workshop, for journeys that begin with a surveyed shelf. */
import type { Desk } from '../../electron/desk/desk.ts';
import { book, finding } from '../../electron/store/schema.ts';

type Damage = readonly [part: string, damage: string, severity: number, count?: number];

/** Eight books of the 1850s to 1890s in cloth, each with work for an afternoon or a day. */
const shelf: readonly Readonly<{ title: string; damages: readonly Damage[] }>[] = [
  {
    title: 'The Tidewater Almanack',
    damages: [
      ['joints', 'split', 3],
      ['spine lining', 'failed adhesive', 2],
    ],
  },
  {
    title: 'A Drover’s Reckoning',
    damages: [
      ['leaves', 'torn', 1, 4],
      ['leaves', 'loose', 2, 2],
      ['covering', 'dirty', 1],
    ],
  },
  {
    title: 'Letters from a Slate Quarry',
    damages: [
      ['spine', 'missing', 3],
      ['corners', 'worn', 2, 3],
    ],
  },
  {
    title: 'Ferns of the North Combe',
    damages: [
      ['hinges', 'loose', 2],
      ['covering', 'dirty', 2],
    ],
  },
  {
    title: 'The Organist’s Daughter',
    damages: [
      ['text block', 'loose', 3],
      ['endpapers', 'torn', 2],
    ],
  },
  {
    title: 'Practical Hedging',
    damages: [
      ['covering', 'frayed', 2],
      ['joints', 'split', 2],
    ],
  },
  {
    title: 'Nine Winters at Sea',
    damages: [
      ['sewing', 'broken', 3],
      ['spine', 'torn', 2],
      ['boards', 'detached', 3, 2],
    ],
  },
  {
    title: 'A Glossary of Millwrights’ Terms',
    damages: [
      ['plates', 'detached', 2, 3],
      ['leaves', 'dirty', 1],
    ],
  },
];

/** The eight, or as many as wanted: the same ones in further volumes. */
export function putBooksOnShelf(desk: Desk, count: number = shelf.length): readonly string[] {
  const workshop = desk.place.workshop;
  if (!workshop) throw new Error('no workshop is open');
  const done = workshop.write(`Put ${count} books on the shelf`, (change) =>
    Array.from({ length: count }, (_, index) => {
      const { title: name, damages } = shelf[index % shelf.length]!;
      const volume = Math.floor(index / shelf.length);
      const title = volume === 0 ? name : `${name}, volume ${volume + 1}`;
      const bookId = change.insert(book, {
        shelfMark: `T${index + 1}`,
        title,
        author: '',
        imprint: '',
        dateText: String(1852 + (index % 10) * 5),
        yearFrom: 1852 + (index % 10) * 5,
        yearTo: 1852 + (index % 10) * 5,
        format: 'crown 8vo',
        heightUm: 190_000 + (index % 10) * 4000,
        widthUm: 125_000 + (index % 10) * 2000,
        thicknessUm: 24_000 + (index % 10) * 3000,
        pages: 240 + (index % 10) * 32,
        pagesText: '',
        binding: 'cloth case',
        colour: 'brown',
        pattern: 'morocco',
        fate: 'restore',
        fateLocked: false,
        stage: 'surveyed',
        use: 'occasional reading',
        significance: 1,
        scarcity: 'uncommon',
        completeness: 'complete',
        note: '',
        createdAt: desk.now(),
      });
      for (const [part, damage, severity, damaged] of damages) {
        change.insert(finding, { bookId, part, damage, severity, count: damaged ?? null, note: '' });
      }
      return bookId;
    }),
  );
  if (!done.ok) throw new Error(done.refusal.sentence);
  return done.value;
}
