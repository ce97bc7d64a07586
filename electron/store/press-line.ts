/** What stands in each press or under weights now, or will next, by the plans that hold. */
import { sql } from 'drizzle-orm';
import type { PressLine } from '../../core/contract/workshop.ts';
import { tool } from './schema.ts';
import type { Reader } from './workshop.ts';

type Held = Readonly<{
  bookId: string;
  book: string;
  tools: string;
  inSince: number;
  dueAt: number;
  taskId: string | null;
  now: number;
}>;

export function readPressLine(db: Reader, now: number): readonly PressLine[] {
  const names = new Map(
    db
      .select({ id: tool.id, name: tool.name })
      .from(tool)
      .all()
      .map(({ id, name }) => [id, name]),
  );
  // The latest plan for a start is the one that holds; what was started stays in the press whatever is planned since.
  const held = db.all<Held>(sql`
    SELECT t.book_id AS bookId, b.title AS book, t.tools, coalesce(t.started_at, t.start_at) AS inSince,
      coalesce(t.held_until, t.end_at) AS dueAt, iif(t.state = 'started', t.id, NULL) AS taskId,
      t.state = 'started' OR t.start_at <= ${now} AS now
    FROM plan_task t JOIN book b ON b.id = t.book_id JOIN plan p ON p.id = t.plan_id
    WHERE t.kind IN ('pressing', 'drying') AND (
      t.state = 'started' OR (
        t.state = 'planned' AND coalesce(t.held_until, t.end_at) > ${now} AND NOT EXISTS (
          SELECT 1 FROM plan later
          WHERE later.kind = p.kind AND later.starts_on = p.starts_on AND later.course_id IS p.course_id
            AND (later.made_at, later.id) > (p.made_at, p.id)
        )
      )
    )
    ORDER BY now DESC, inSince, t.id`);
  const lines: PressLine[] = [];
  const seen = new Set<string>();
  for (const { tools, now: isNow, ...line } of held) {
    const ids = JSON.parse(tools) as readonly string[];
    for (const id of ids.length > 0 ? ids : ['open air']) {
      // Of what is only to come, the first for a tool that is empty now.
      if (!isNow && (seen.has(id) || id === 'open air')) continue;
      seen.add(id);
      lines.push({ ...line, tool: names.get(id) ?? id });
    }
  }
  return lines;
}
