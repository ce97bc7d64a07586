/** What is said of photographs wherever they are shown. */
import { type Photograph, photographStages } from '../../core/contract/photographs.ts';

const stageWords = {
  before: 'before treatment',
  during: 'during treatment',
  after: 'after treatment',
  '': 'not said',
} as const;
export const stageOptions = photographStages.map((value) => ({ value, words: stageWords[value] }));

/** "Photograph before treatment, joints split: the head" for those who listen, and for lists to choose from. */
export function photographName({ stage, finding, caption, fileName }: Photograph): string {
  const what = [stage === '' ? 'Photograph' : `Photograph ${stageWords[stage]}`, finding].filter(Boolean).join(', ');
  return `${what}: ${caption || fileName}`;
}
