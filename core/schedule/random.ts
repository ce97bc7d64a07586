/** Repeatable chance from a seed: mulberry32 (Tommy Ettinger, public domain, 2017), 2^32 states, enough for a search. */
export type Chance = () => number;

/** Numbers in [0, 1), the same sequence for the same seed. */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
