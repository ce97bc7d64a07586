/** Cutting plans and matches in their thread. */
import { type CutProblem, planCuts } from '../../core/cutting/plan.ts';
import type { CutPlan } from '../../core/cutting/stock.ts';
import type { Result } from '../../core/result.ts';
import {
  chooseInTurn,
  type Match,
  matchTogether,
  type Ranking,
  type Repair,
  rankPieces,
} from '../../core/salvage/match.ts';
import type { DrawerPiece } from '../../core/salvage/piece.ts';
import { loadSolver } from './highs.ts';
import { answerThread } from './thread.ts';

export type CutterInput =
  | Readonly<{ task: 'plan'; problem: CutProblem; seed: number }>
  | Readonly<{ task: 'rank'; repairs: readonly Repair[]; pieces: readonly DrawerPiece[]; together: boolean }>
  | Readonly<{ task: 'turns'; repairs: readonly Repair[]; pieces: readonly DrawerPiece[] }>;

export type Given = Readonly<{ repairId: string; match: Match | null; words: string }>;
export type CutterAnswer =
  | Readonly<{ task: 'turns'; chosen: readonly (string | null)[] }>
  | Readonly<{ task: 'plan'; plan: Result<CutPlan> }>
  | Readonly<{
      task: 'rank';
      rankings: readonly Ranking[];
      together: Readonly<{ given: readonly Given[]; points: number; proven: boolean }> | null;
    }>;

await answerThread<CutterInput, never, CutterAnswer>(async (input, _say, shouldStop) => {
  if (input.task === 'plan') {
    return { task: 'plan', plan: planCuts(input.problem, { seed: input.seed, shouldStop }) };
  }
  if (input.task === 'turns') return { task: 'turns', chosen: chooseInTurn(input.repairs, input.pieces) };
  const rankings = input.repairs.map((repair) => rankPieces(repair, input.pieces));
  if (!input.together) return { task: 'rank', rankings, together: null };
  const rows = input.repairs.map((repair, index) => ({ repair, matches: rankings[index]?.matches ?? [] }));
  const { given, points, proven } = await matchTogether(rows, await loadSolver(shouldStop));
  return { task: 'rank', rankings, together: { given, points, proven } };
});
