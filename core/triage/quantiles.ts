/**
 * Points of the normal distribution and of Student's t. The normal by its series (Marsaglia 2004, "Evaluating the normal distribution",
 * Journal of Statistical Software 11(4)); t with whole degrees of freedom by the finite sums of Abramowitz and Stegun 1964, 26.7.3 and
 * 26.7.4; both inverted by halving.
 */
import { assert } from '../result.ts';

/** How many standard deviations either side of the mean hold this share, 1.96 for 0.95. `confidence` lies between 0 and 1. */
export function normalPoint(confidence: number): number {
  return halved(confidence, (z) => 2 * normalBelow(z) - 1);
}

/** The same for Student's t with so many degrees of freedom, at least one. */
export function studentPoint(confidence: number, freedom: number): number {
  return freedom > 300 ? normalPoint(confidence) : halved(confidence, (t) => studentWithin(t, freedom));
}

function halved(confidence: number, within: (point: number) => number): number {
  assert(confidence > 0 && confidence < 1, 'a confidence lies between none and certainty');
  let [low, high] = [0, 1];
  while (within(high) < confidence && high < 1e9) high *= 2;
  for (let turn = 0; turn < 80; turn++) {
    const middle = (low + high) / 2;
    if (within(middle) < confidence) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Share of the normal distribution below so many standard deviations. */
export function normalBelow(z: number): number {
  if (z < 0) return 1 - normalBelow(-z);
  if (z > 8) return 1;
  let term = z;
  let sum = z;
  for (let odd = 3; term > 1e-18 * sum && odd < 1000; odd += 2) {
    term *= (z * z) / odd;
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}

function studentWithin(t: number, freedom: number): number {
  const angle = Math.atan(t / Math.sqrt(freedom));
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = freedom % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = freedom === 1 ? 0 : term;
  for (let power = odd ? 3 : 2; power <= freedom - 2; power += 2) {
    term *= (cosine * cosine * (power - 1)) / power;
    sum += term;
  }
  return odd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum;
}
