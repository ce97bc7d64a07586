/** What fills a course beside the bench: who teaches and helps, talks, free time and outings. */

export const roles = ['tutor', 'helper', 'cook'] as const;
export type Helper = Readonly<{ name: string; role: (typeof roles)[number]; diet: string; note: string }>;

export const talkKinds = ['talk', 'group demonstration', 'free time', 'outing', 'tidying'] as const;
export type Talk = Readonly<{
  kind: (typeof talkKinds)[number];
  title: string;
  day: number;
  fromMinute: number;
  minutes: number;
}>;

type Sitting = readonly [number, number];

/** Sittings of this day without what else fills them; nobody is planned at the bench meanwhile. */
export function sittingsOn(day: number, sittings: readonly Sitting[], talks: readonly Talk[]): readonly Sitting[] {
  return talks
    .filter((talk) => talk.day === day)
    .reduce<readonly Sitting[]>((left, { fromMinute, minutes }) => {
      const to = fromMinute + minutes;
      return left.flatMap(([start, end]): readonly Sitting[] =>
        to <= start || fromMinute >= end
          ? [[start, end]]
          : (
              [
                [start, Math.min(end, fromMinute)],
                [Math.max(start, to), end],
              ] as const
            ).filter(([a, b]) => a < b),
      );
    }, sittings);
}

/** Ids so that each comes after those it follows, else in the order given; null where they follow each other in a circle. */
export function inOrder(
  items: readonly Readonly<{ operationId: string; after: readonly string[] }>[],
): readonly string[] | null {
  const left = [...items];
  const there = new Set(items.map(({ operationId }) => operationId));
  const placed: string[] = [];
  while (left.length > 0) {
    const next = left.findIndex(({ after }) => after.every((id) => !there.has(id) || placed.includes(id)));
    const [item] = next < 0 ? [] : left.splice(next, 1);
    if (item === undefined) return null;
    placed.push(item.operationId);
  }
  return placed;
}
