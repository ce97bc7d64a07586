/**
 * An independent model of a scheduling problem, for small cases: one 0-1 variable for every start (and member of a pool) a task can have,
 * solved by HiGHS. It shares nothing with the engine but the problem's types; times are read minute by minute.
 */
import loadHighs from 'highs';
import type { Objective, Problem, Task } from '../../../core/schedule/problem.ts';

type Choice = Readonly<{
  name: string;
  start: number;
  out: number;
  busy: readonly Readonly<{ resource: string; amount: number; minutes: readonly number[] }>[];
}>;

const highs = await loadHighs();

/** The best objective of any plan that is over by `horizon`, or null when there is none. Without pins and progress. */
export function solveByModel(problem: Problem, horizon: number): Objective | null {
  const choices = new Map(problem.tasks.map((task, t) => [task.id, choicesOf(problem, task, t, horizon)]));
  if ([...choices.values()].some((list) => list.length === 0)) return null;
  const rows: string[] = [];
  for (const list of choices.values()) rows.push(`${list.map((choice) => choice.name).join(' + ')} = 1`);
  for (const task of problem.tasks)
    for (const after of task.after) {
      const starts = terms(choices.get(task.id)!, (choice) => choice.start);
      const outs = terms(choices.get(after.task)!, (choice) => -choice.out);
      rows.push(`${starts} ${outs} >= ${after.minLag}`);
      if (after.maxLag !== undefined) rows.push(`${starts} ${outs} <= ${after.maxLag}`);
    }
  rows.push(...capacityRows(problem, [...choices.values()].flat(), horizon));
  for (const list of choices.values()) rows.push(`finish ${terms(list, (choice) => -choice.out)} >= 0`);
  // One objective in place of three: each part outweighs all that the parts after it can add up to.
  const weights = problem.tasks.reduce((sum, task) => sum + task.weight, 0);
  const completionFactor = horizon + 1;
  const latenessFactor = completionFactor * (weights * (horizon - problem.now) + 1);
  const cost = (task: Task, out: number) =>
    task.weight *
    (completionFactor * (out - problem.now) + (task.due === null ? 0 : latenessFactor * Math.max(0, out - task.due)));
  const goal = problem.tasks.map((task) => terms(choices.get(task.id)!, (choice) => cost(task, choice.out))).join(' ');
  const binaries = [...choices.values()].flatMap((list) => list.map((choice) => choice.name));
  const model = `Minimize\n obj: finish ${goal}\nSubject To\n${rows.map((row, k) => ` r${k}: ${row}`).join('\n')}\nBounds\n finish >= ${problem.now}\nBinary\n ${binaries.join(' ')}\nEnd`;
  const solved = highs.solve(model, { mip_rel_gap: 0, mip_abs_gap: 0.5 });
  if (solved.Status === 'Infeasible') return null;
  if (solved.Status !== 'Optimal') throw new Error(`HiGHS says ${solved.Status}`);
  const out = (task: Task) =>
    choices.get(task.id)!.find((choice) => Math.round(solved.Columns[choice.name]!.Primal as number) === 1)!.out;
  return {
    lateness: problem.tasks.reduce(
      (sum, task) => sum + (task.due === null ? 0 : task.weight * Math.max(0, out(task) - task.due)),
      0,
    ),
    completion: problem.tasks.reduce((sum, task) => sum + task.weight * (out(task) - problem.now), 0),
    finish: Math.max(problem.now, ...problem.tasks.map(out)),
  };
}

function terms(list: readonly Choice[], factor: (choice: Choice) => number): string {
  return list
    .map((choice) => [factor(choice), choice.name] as const)
    .filter(([value]) => value !== 0)
    .map(([value, name]) => `${value < 0 ? '-' : '+'} ${Math.abs(value)} ${name}`)
    .join(' ');
}

function choicesOf(problem: Problem, task: Task, t: number, horizon: number): Choice[] {
  const open = (name: string | null, minute: number) =>
    name === null || problem.calendars[name]!.some((w) => w.from <= minute && minute < w.to);
  const attended = (name: string, minute: number) =>
    problem.calendars[name]!.some((w) => w.from <= minute && minute <= w.to);
  const found: Choice[] = [];
  for (let start = Math.max(problem.now, task.release ?? problem.now); start < horizon; start++) {
    if (!open(task.calendar, start) || (task.heldUntil !== null && !attended(task.heldUntil, start))) continue;
    const worked: number[] = [];
    let minute = start;
    for (; worked.length < task.minutes && minute < horizon; minute++)
      if (open(task.calendar, minute)) worked.push(minute);
    const whole = minute - start === task.minutes;
    if (worked.length < task.minutes || (task.shape === 'whole' && !whole)) continue;
    const end = minute;
    let out = end;
    if (task.heldUntil !== null) while (out < horizon && !open(task.heldUntil, out)) out++;
    if (out >= horizon) continue;
    const span = Array.from({ length: out - start }, (_, k) => start + k);
    const busyMinutes = (resource: string) =>
      problem.resources.find((r) => r.id === resource)!.kind === 'hands' && task.heldUntil === null ? worked : span;
    const members = task.demands.map(
      (demand) => problem.pools.find((pool) => pool.id === demand.resource)?.members ?? [demand.resource],
    );
    for (const [m, chosen] of product(members).entries())
      found.push({
        name: `x${t}_${start}_${m}`,
        start,
        out,
        busy: chosen.map((resource, d) => ({
          resource,
          amount: task.demands[d]!.amount,
          minutes: busyMinutes(resource),
        })),
      });
  }
  return found;
}

function product(lists: readonly (readonly string[])[]): string[][] {
  return lists.reduce<string[][]>((all, list) => all.flatMap((chosen) => list.map((one) => [...chosen, one])), [[]]);
}

function capacityRows(problem: Problem, choices: readonly Choice[], horizon: number): string[] {
  return problem.resources.flatMap((resource) => {
    const using = choices.flatMap((choice) =>
      choice.busy
        .filter((busy) => busy.resource === resource.id)
        .map((busy) => ({ name: choice.name, amount: busy.amount, minutes: new Set(busy.minutes) })),
    );
    const rows: string[] = [];
    for (let minute = problem.now; minute < horizon; minute++) {
      const capacity = (resource.changes ?? []).reduce(
        (level, change) => (change.at <= minute ? change.capacity : level),
        resource.capacity,
      );
      const here = using.filter((one) => one.minutes.has(minute));
      if (here.length > 0) rows.push(`${here.map((one) => `+ ${one.amount} ${one.name}`).join(' ')} <= ${capacity}`);
    }
    return [...new Set(rows)];
  });
}
