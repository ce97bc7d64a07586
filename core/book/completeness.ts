/** What a copy lacks: leaves against the collation of a perfect copy, plates against their list. */
import { ok, type Result, refuse } from '../result.ts';
import { compareCopy, readStatement } from './collation.ts';
import { checkPlates } from './plates.ts';

/** As they are written for a book; an empty one is not looked at. `copy` and `found` are of the copy in hand. */
export type CopyAgainst = Readonly<{ statement: string; copy: string; called: string; found: string }>;

export type Lacking = Readonly<{
  leaves: readonly string[];
  extraLeaves: readonly string[];
  plates: readonly string[];
  /** What was compared: with nothing to compare, nothing is known to lack. */
  compared: readonly ('leaves' | 'plates')[];
}>;

/** Refuses a formula that cannot be read, or a list of plates that goes backwards, naming the field. */
export function whatLacks({ statement, copy, called, found }: CopyAgainst): Result<Lacking> {
  const compared: ('leaves' | 'plates')[] = [];
  let leaves: readonly string[] = [];
  let extraLeaves: readonly string[] = [];
  let plates: readonly string[] = [];
  if (statement.trim() !== '' && copy.trim() !== '') {
    const ideal = readStatement(statement);
    if (!ideal.ok) return refuse(ideal.refusal.sentence, 'statement');
    const here = readStatement(copy);
    if (!here.ok) return refuse(here.refusal.sentence, 'copy');
    const { missing, extra } = compareCopy(ideal.value.collation, here.value.collation);
    [leaves, extraLeaves] = [missing, extra];
    compared.push('leaves');
  }
  if (called.trim() !== '') {
    const checked = checkPlates(called, found);
    if (!checked.ok) return refuse(checked.refusal.sentence, 'called');
    plates = checked.value.missing;
    compared.push('plates');
  }
  return ok({ leaves, extraLeaves, plates, compared });
}
