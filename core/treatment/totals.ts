/** A treatment summed: minutes with their range, waiting, materials by kind, cautions and what stays. */
import { levels } from '../book/book.ts';
import type { MaterialNeed } from '../stock/material.ts';
import { operationById } from './library.ts';
import type { Caution, Proposal, Step, ThreePoint } from './treatment.ts';

/** Sums over steps: minutes as a distribution, waits, materials by kind, cautions and what stays, each once. */
export function totals(steps: readonly Step[]): Omit<Proposal, 'remarks'> {
  let waitMinutes = 0;
  let level = 0;
  const needs = new Map<string, { -readonly [Key in keyof MaterialNeed]: MaterialNeed[Key] }>();
  const cautions: Caution[] = [];
  const keeps: string[] = [];
  const newCase = steps.some(({ operationId }) => operationId === 'make case');
  for (const step of steps) {
    waitMinutes += step.wait?.minutes ?? 0;
    level = Math.max(level, levels.indexOf(step.level));
    for (const need of step.needs) {
      const key = `${need.kind}|${need.unit}`;
      const sum = needs.get(key);
      if (sum === undefined) needs.set(key, { ...need, cut: null, working: step.name });
      else {
        sum.quantity = Math.round((sum.quantity + need.quantity) * 1e5) / 1e5;
        if (!sum.working.includes(step.name)) sum.working += `, ${step.name}`;
      }
    }
    for (const caution of step.cautions) {
      if (!cautions.some((other) => other.sentence === caution.sentence)) cautions.push(caution);
    }
    // Steps agreed before they said so themselves keep what the program's operation keeps.
    const kept = step.keeps ?? operationById(step.operationId)?.keeps;
    // Where a new case is made, taking out and casing in no longer keep the one there was.
    const given = newCase && kept?.startsWith('the case');
    if (kept && !given && !keeps.includes(kept)) keeps.push(kept);
  }
  return {
    steps,
    minutes: sumOfMinutes(steps.map((step) => step.minutes)),
    waitMinutes,
    needs: [...needs.values()],
    cautions,
    keeps,
    level: levels[level] ?? 'newcomer',
  };
}

/**
 * The sum of independent three-point times. Each is a PERT beta, mean (low + 4 likely + high) / 6 and standard deviation (high − low) / 6
 * (Malcolm, Roseboom, Clark and Fazar 1959); the sum is taken as log-normal with the summed mean and variance. `likely` is the mean, which
 * is what adds up over many books; `low` and `high` are the 10 % and 90 % points.
 */
function sumOfMinutes(minutes: readonly ThreePoint[]): ThreePoint {
  let mean = 0;
  let variance = 0;
  for (const { low, likely, high } of minutes) {
    mean += (low + 4 * likely + high) / 6;
    variance += ((high - low) / 6) ** 2;
  }
  if (mean === 0) return { low: 0, likely: 0, high: 0 };
  const logVariance = Math.log(1 + variance / (mean * mean));
  const logMean = Math.log(mean) - logVariance / 2;
  const spread = z90 * Math.sqrt(logVariance);
  return {
    low: Math.round(Math.exp(logMean - spread)),
    likely: Math.round(mean),
    high: Math.round(Math.exp(logMean + spread)),
  };
}

/** The 90 % point of the normal distribution. */
const z90 = 1.2815515655446004;
