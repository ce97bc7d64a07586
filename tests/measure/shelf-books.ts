/** Any number of invented books with survey findings, the same for the same seed; for measuring, never for looking at. */
import type { Damage, Part } from '../../core/book/book.ts';
import {
  bindings,
  completenesses,
  damages,
  grainPatterns,
  parts,
  scarcities,
  stages,
  uses,
} from '../../core/book/book.ts';
import { assert } from '../../core/result.ts';
import { chanceFrom } from '../../core/schedule/random.ts';
import { book, finding, lot, place } from '../../electron/store/schema.ts';
import type { Workshop } from '../../electron/store/workshop.ts';

const heads = [
  'A History of',
  'Rambles in',
  'Letters from',
  'The Birds of',
  'Songs of',
  'A Treatise on',
  'The Castle at',
  'Memoirs of',
  'Walks through',
  'The Orchard in',
  'Tales of',
  'Notes upon',
];
const places = [
  'Dorset',
  'the Fens',
  'Arden',
  'Northumbria',
  'the Hebrides',
  'Old Calder',
  'Wessex',
  'the Marches',
  'Harrowdale',
  'Penmere',
  'Skelby',
  'the Long Valley',
  'Ravensholt',
  'Thornwick',
];
const tails = [
  '',
  ', with Plates',
  ', a Romance',
  ' and its People',
  ', in Two Volumes',
  ' for the Young',
  ': Second Series',
  ', Illustrated',
];
const names = [
  'Ashdown',
  'Birkett',
  'Calloway',
  'Dunmore',
  'Elphick',
  'Farrow',
  'Garside',
  'Hollis',
  'Ingram',
  'Jessop',
  'Kershaw',
  'Lovell',
  'Marlow',
  'Nuttall',
  'Oldroyd',
  'Pardoe',
  'Quayle',
  'Ravenhill',
  'Selwyn',
  'Tranter',
];
const initials = 'ABCDEFGHJKLMNPRSTW';
const colours = [
  'dark green',
  'green',
  'red',
  'dark red',
  'brown',
  'blue',
  'navy',
  'black',
  'ochre',
  'purple',
  'grey',
  'bright green',
];
const formats = ['crown 8vo', 'demy 8vo', 'foolscap 8vo', 'royal 8vo', 'post 8vo', '12mo', 'demy 4to'];

/** Books are put in by so many a write, as a list would be taken in. */
const batch = 5000;

export function fillShelf(store: Workshop, books: number, seed: number): void {
  const random = chanceFrom(seed);
  const pick = <T>(list: readonly T[]): T => {
    const one = list[Math.floor(random() * list.length)];
    assert(one !== undefined, 'the list is not empty');
    return one;
  };
  const lots: string[] = [];
  const shelves: string[] = [];
  const first = store.write('Invent lots and places', (change) => {
    for (let n = 1; n <= 20; n++) lots.push(change.insert(lot, { name: `Lot ${n}`, note: '' }));
    for (let n = 1; n <= 60; n++) shelves.push(change.insert(place, { name: `Case ${n}` }));
  });
  assert(first.ok, 'lots and places are kept');
  for (let from = 0; from < books; from += batch) {
    const kept = store.write('Invent books', (change) => {
      for (let n = from; n < Math.min(from + batch, books); n++) {
        const year = 1780 + Math.floor(random() * 150);
        const heightUm = 150_000 + Math.floor(random() * 150_000);
        const id = change.insert(book, {
          shelfMark: `M${String(n + 1).padStart(6, '0')}`,
          title: `${pick(heads)} ${pick(places)}${pick(tails)}`,
          author: `${pick([...initials])}. ${pick(names)}`,
          imprint: `London, ${year}`,
          dateText: String(year),
          yearFrom: year,
          yearTo: year,
          format: pick(formats),
          heightUm,
          widthUm: Math.round(heightUm * 0.64),
          thicknessUm: 15_000 + Math.floor(random() * 40_000),
          pages: null,
          pagesText: '',
          binding: pick(bindings),
          colour: pick(colours),
          pattern: pick(grainPatterns),
          lotId: pick(lots),
          placeId: pick(shelves),
          fate: null,
          fateLocked: false,
          stage: pick(stages.slice(0, 3)),
          use: pick(uses),
          significance: Math.floor(random() * 4),
          scarcity: pick(scarcities),
          completeness: pick(completenesses),
          note: '',
          createdAt: n,
        });
        for (let found = Math.floor(random() * 4); found > 0; found--) {
          const damage: { part: Part; damage: Damage } = { part: pick(parts), damage: pick(damages) };
          const severity = 1 + Math.floor(random() * 3);
          change.insert(finding, { bookId: id, ...damage, severity, count: null, note: '' });
        }
      }
    });
    assert(kept.ok, 'the books are kept');
  }
}
