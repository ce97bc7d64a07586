/**
 * The treatment record that goes with a book for good: what it is, how it was found, what was proposed and agreed, what was done with what,
 * what was kept and added, how it is now, how to use and keep it, who says so and when. Made here as plain parts; paper, page and screen
 * set them alike.
 *
 * What a record must hold follows the American Institute for Conservation's Guidelines for Practice, 24 to 28 (documentation of
 * examination, treatment plan and treatment; the record is kept for good), their commentaries from memory; for the condition, the
 * essential contents of a condition report in EN 16095:2012, from memory.
 */
import { type Finding, type Hazard, type HazardKind, severityWords } from '../book/book.ts';
import { minutesWords } from '../units/durations.ts';
import type {
  MaterialUsed,
  PieceTold,
  RecordDocument,
  RecordFacts,
  RecordPart,
  RecordPhotograph,
} from './record-shape.ts';
import type { Step } from './treatment.ts';

export function composeRecord(facts: RecordFacts): RecordDocument {
  const { book, words, agreed, proposal } = facts;
  const after = facts.photographs.filter(({ stage }) => stage === 'after');
  const before = facts.photographs.filter(({ stage }) => stage === 'before' || stage === '');
  const during = facts.photographs.filter(({ stage }) => stage === 'during');
  return {
    title: book.title,
    lead: [`Treatment record, ${facts.workshop}`, signature(facts)].filter(Boolean).join('. '),
    sections: [
      { title: 'The book', parts: [identification(facts), ...said(words.description)] },
      {
        title: 'Condition before treatment',
        parts: [
          ...said(words.conditionBefore),
          findingsTable(facts.findings),
          ...facts.hazards.map((hazard): RecordPart => ({ kind: 'caution', words: hazardSentence(hazard) })),
          ...pictures(before),
        ],
      },
      {
        title: agreed ? `Proposed, and agreed on ${agreed.on}` : 'Proposed, not agreed yet',
        parts: [
          ...said(words.purpose, 'Why it is treated, for whom and what was agreed with them is not written yet.'),
          ...said(agreed?.note ?? ''),
          stepsTable(agreed?.steps ?? proposal.steps),
          ...(agreed ? [] : proposal.remarks.map((remark): RecordPart => ({ kind: 'words', words: remark }))),
        ],
      },
      {
        title: 'What was done',
        parts: [
          doneTable(facts.done),
          ...said(words.departures && `Other than agreed: ${words.departures}`),
          materialsTable(facts.materials),
          ...pictures(during),
        ],
      },
      { title: 'Original material kept', parts: keptParts(facts) },
      { title: 'What was added', parts: [addedTable(facts.added)] },
      {
        title: 'Condition after treatment',
        parts: [
          ...said(words.conditionAfter, 'The condition after treatment is not written yet.'),
          ...beforeAndAfter(before, after),
        ],
      },
      {
        title: 'Use and care',
        parts: [
          ...warnings(facts.hazards, facts.findings).map(
            (warning): RecordPart => ({ kind: 'caution', words: warning }),
          ),
          { kind: 'words', words: words.care || usualCare },
        ],
      },
      {
        title: 'Who and when',
        parts: said(signature(facts), 'Not signed yet: say in the Day-book who treated the book and when.'),
      },
    ],
    card: cardOf(facts),
  };
}

/** Common practice, no source. */
const usualCare =
  'Keep upright and supported, out of the sun, at an even, moderate warmth and dampness. Open no further than it goes of itself. For objects of value ask an accredited conservator.';

/** What each hazard asks of whoever handles the book; pigments after the Poison Book Project, Winterthur and University of Delaware, the rest common practice, no source. */
const warningOf: Readonly<Record<HazardKind, string>> = {
  'arsenical green':
    'The covering may hold arsenic. Handle with nitrile gloves, keep it bagged and apart, away from children and food; wash your hands.',
  'lead or chromium pigment':
    'The covering may hold lead or chromium. Handle as little as can be, away from children and food; wash your hands.',
  mould:
    'The book has had mould. Keep it dry and aired; if it smells or blooms again, bag it and ask before opening it.',
  insects:
    'Insects have been in the book. Look for fresh dust or holes twice a year and keep it apart if there are any.',
  'red rot': 'The leather sheds red dust. Handle it in a wrapper, and do not wet it.',
};

function warnings(hazards: readonly Hazard[], findings: readonly Finding[]): readonly string[] {
  const said = hazards.filter(({ state }) => state !== 'cleared').map(({ kind }) => warningOf[kind]);
  if (findings.some(({ damage }) => damage === 'brittle')) {
    said.push('The paper is brittle: turn leaves with the flat of the hand, do not fold or copy them on a glass.');
  }
  return said;
}

function identification({ book, place, lot }: RecordFacts): RecordPart {
  const size = [book.heightMm, book.widthMm, book.thicknessMm];
  const known = size.some((mm) => mm !== null);
  const rows = [
    ['Shelf mark', book.shelfMark ?? ''],
    ['Title', book.title],
    ['Author', book.author],
    ['Imprint', book.imprint.includes(book.dateText) ? book.imprint : joined(book.imprint, book.dateText)],
    ['Format', book.format],
    [
      'Height × width × thickness',
      known ? `${size.map((mm) => (mm === null ? '?' : Math.round(mm * 10) / 10)).join(' × ')} mm` : '',
    ],
    ['Binding', joined(book.binding ?? '', book.colour, book.pattern === null ? '' : `${book.pattern} grain`)],
    ['Extent', book.pagesText || (book.pages === null ? '' : `${book.pages} pages`)],
    ['Completeness', book.completeness],
    ['Place, and where it came from', joined(place, lot)],
  ];
  const columns = [
    { head: '', share: 1 },
    { head: '', share: 3 },
  ];
  return { kind: 'table', columns, rows: rows.filter(([, words]) => words !== '') };
}

function findingsTable(findings: readonly Finding[]): RecordPart {
  if (findings.length === 0) return { kind: 'missing', words: 'It was not surveyed.' };
  const columns = [
    { head: 'Part', share: 1.2 },
    { head: 'Damage', share: 1.5 },
    { head: 'How bad', share: 1 },
    { head: 'Note', share: 3 },
  ];
  const rows = findings.map(({ part, damage, count, severity, note }) => [
    part,
    count === null ? damage : `${damage} (${count})`,
    severityWords[severity],
    note,
  ]);
  return { kind: 'table', columns, rows };
}

function hazardSentence({ kind, state, reason, decision }: Hazard): string {
  const name = `${kind.charAt(0).toUpperCase()}${kind.slice(1)}`;
  if (state === 'raised') return `${name} (nobody has looked yet). ${reason}`;
  const decided = decision.trim();
  const said = decided === '' || /[.!?]$/.test(decided) ? decided : `${decided}.`;
  // What the rule asks for until somebody has looked would contradict what was found.
  return `${name}: ${[state, said].filter((words) => words !== '').join('. ')}${said === '' ? '.' : ''}${state === 'cleared' ? '' : ` ${reason}`}`;
}

function stepsTable(steps: readonly Step[]): RecordPart {
  if (steps.length === 0) return { kind: 'words', words: 'Nothing is to be done.' };
  const columns = [
    { head: 'Operation', share: 2 },
    { head: 'Why', share: 2.6 },
    { head: 'Minutes', share: 0.8, align: 'right' },
    { head: 'Materials', share: 2 },
  ] as const;
  const rows = steps.map(({ name, why, minutes, needs }) => [
    name,
    why,
    `${minutes.low}–${minutes.high}`,
    needs.map((need) => need.kind).join(', '),
  ]);
  return { kind: 'table', columns, rows };
}

function doneTable(done: RecordFacts['done']): RecordPart {
  if (done.length === 0) return { kind: 'missing', words: 'Nothing is in the day-book yet.' };
  const columns = [
    { head: 'Day', share: 1.1 },
    { head: 'What', share: 4.4 },
    { head: 'Minutes', share: 0.8, align: 'right' },
  ] as const;
  const rows = done.map(({ on, what, minutes }) => [on, what, minutes === null ? '' : `${minutes}`]);
  const whole = done.reduce((sum, { minutes }) => sum + (minutes ?? 0), 0);
  return { kind: 'table', columns, rows: [...rows, ['', `Altogether ${minutesWords(whole)}`, `${whole}`]] };
}

function materialsTable(materials: readonly MaterialUsed[]): RecordPart {
  if (materials.length === 0) return { kind: 'missing', words: 'No material is booked to this book in the cupboard.' };
  const columns = [
    { head: 'Material', share: 2.4 },
    { head: 'How much', share: 1, align: 'right' },
    { head: 'Lot', share: 1.4 },
    { head: 'In which step', share: 1.8 },
  ] as const;
  const rows = materials.map(({ name, supplier, quantity, unit, lot, operation }) => [
    joined(name, supplier),
    `${Math.round(quantity * 1000) / 1000} ${unit}`,
    lot,
    operation,
  ]);
  return { kind: 'table', columns, rows };
}

function keptParts({ proposal, words, takenOff }: RecordFacts): readonly RecordPart[] {
  const stays =
    proposal.keeps.length === 0
      ? 'Everything original stays on the book.'
      : `By the treatment planned there stay: ${proposal.keeps.join('; ')}.`;
  const rows = [
    ...words.kept.map(({ what, where }) => [what, where]),
    ...takenOff.map(({ name, where, otherBook }) => [
      name,
      otherBook === '' ? joined('the drawer', where) : `in ${otherBook}`,
    ]),
  ];
  const columns = [
    { head: 'Taken off and kept', share: 3 },
    { head: 'Where it now is', share: 3 },
  ];
  const table: RecordPart =
    rows.length === 0
      ? { kind: 'words', words: 'Nothing is noted as taken off and kept apart.' }
      : { kind: 'table', columns, rows };
  return [{ kind: 'words', words: stays }, table];
}

function addedTable(added: readonly PieceTold[]): RecordPart {
  if (added.length === 0) {
    return { kind: 'words', words: 'No piece of another book; new materials are listed under what was done.' };
  }
  const columns = [
    { head: 'Piece', share: 2.4 },
    { head: 'From', share: 3 },
    { head: 'On', share: 1.2 },
  ];
  const rows = added.map(({ name, otherBook, on }) => [name, otherBook || 'not known', on]);
  return { kind: 'table', columns, rows };
}

function cardOf(facts: RecordFacts): RecordDocument['card'] {
  const { book, words, done, agreed, added, hazards, findings } = facts;
  const steps = [...new Set(done.map(({ what }) => what))];
  const treated = steps.length > 0 ? steps : (agreed?.steps ?? []).map(({ name }) => name);
  const rows = [
    ['Book', joined(book.shelfMark ?? '', book.author, book.dateText)],
    ['Handle with care', warnings(hazards, findings).join(' ')],
    [steps.length > 0 ? 'Done' : 'Agreed, not done yet', treated.join('; ')],
    ['Added', added.map(({ name, otherBook }) => (otherBook === '' ? name : `${name} from ${otherBook}`)).join('; ')],
    ['Kept', words.kept.map(({ what, where }) => joined(what, where)).join('; ')],
    ['Now', words.conditionAfter],
    ['Use and care', words.care || usualCare],
    ['Treated by', signature(facts) || facts.workshop],
  ] as const;
  return rows.filter(([, said]) => said !== '').map(([name, said]) => [name, cut(said)]);
}

/** So much of each fits a card; the record has it whole. */
function cut(words: string): string {
  return words.length > 280 ? `${words.slice(0, 260).trimEnd()} … (see the record)` : words;
}

function signature({ words, signedOn }: RecordFacts): string {
  return joined(words.signedBy, signedOn);
}

function said(words: string, missing?: string): readonly RecordPart[] {
  if (words.trim() !== '') return words.split(/\n{2,}/).map((paragraph) => ({ kind: 'words', words: paragraph }));
  return missing === undefined ? [] : [{ kind: 'missing', words: missing }];
}

function pictures(photographs: readonly RecordPhotograph[]): readonly RecordPart[] {
  return photographs.length === 0 ? [] : [{ kind: 'photographs', photographs }];
}

/** The first and the last side by side, at one scale where both have one; then what else was taken after. */
function beforeAndAfter(
  before: readonly RecordPhotograph[],
  after: readonly RecordPhotograph[],
): readonly RecordPart[] {
  const first = before.find(({ scaled }) => scaled) ?? before[0];
  const last = after.findLast(({ scaled }) => scaled) ?? after.at(-1);
  if (first === undefined || last === undefined) return pictures(after);
  return [...pictures([first, last]), ...pictures(after.filter((one) => one !== last))];
}

function joined(...words: readonly string[]): string {
  return words.filter((one) => one !== '').join(', ');
}
