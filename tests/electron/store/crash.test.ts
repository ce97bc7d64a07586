import { expect, test } from 'vitest';
import { crash } from '../../measure/crash-run.ts';
import { temporaryFolder } from '../test-desk.ts';

test('five kills of a writing process lose nothing it had acknowledged and leave the workshop sound (seed 7)', async () => {
  const tally = await crash(temporaryFolder(), 5, 7, 150);
  expect(tally).toMatchObject({ kills: 5, lost: 0, unsound: 0, troubles: [] });
  expect(tally.acknowledged).toBeGreaterThan(0);
});
