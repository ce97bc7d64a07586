import loadHighs from 'highs';
import type { SolveMip } from '../../../core/triage/fates.ts';

/** HiGHS on LP text, as the program's own wrapper does it. */
export async function highsSolver(): Promise<SolveMip> {
  const highs = await loadHighs();
  return async (lpText, { seconds, relativeGap }) => {
    const solution = highs.solve(lpText, {
      output_flag: false,
      time_limit: seconds,
      mip_rel_gap: relativeGap,
      mip_abs_gap: 1e-6,
    });
    const values = Object.fromEntries(
      Object.entries(solution.Columns).map(([name, column]) => [name, 'Primal' in column ? column.Primal : 0]),
    );
    const prices = Object.fromEntries(
      solution.Rows.flatMap((row) => ('Dual' in row && 'Name' in row ? [[row.Name, row.Dual] as const] : [])),
    );
    const status =
      solution.Status === 'Optimal' ? 'optimal' : solution.Status === 'Infeasible' ? 'infeasible' : 'stopped';
    return { status, objective: solution.ObjectiveValue, values, prices };
  };
}
