/** A course week looked at by whose it is: the lanes of people, teachers and tools, and what each is doing at one moment. */

/** What is read of a laid-out task. Instants in UTC milliseconds. */
export type WeekTask = Readonly<{
  id: string;
  kind: string;
  personId: string | null;
  startAt: number;
  endAt: number;
  heldUntil: number | null;
  tools: readonly string[];
}>;

type Window = Readonly<{ from: number; to: number }>;

export type Doing<Task> = Readonly<{
  /** Person's id, teacher's or tool's. */
  who: string;
  /** At hand now: one thing for a person, as many as look at a teacher or hold a tool. */
  now: readonly Task[];
  /** What dries or is pressed meanwhile. */
  waiting: readonly Task[];
  /** What comes next at hand; null where nothing does. */
  next: Task | null;
}>;

const teacher = /^(tutor|helper) (\d+)$/;

/** Tutors and helpers who are asked for in this week, tutors first. */
export function teachersIn(tasks: readonly WeekTask[]): readonly string[] {
  const found = new Set(tasks.flatMap(({ tools }) => tools.filter((id) => teacher.test(id))));
  return [...found].toSorted((one, other) => rank(one) - rank(other));
}

function rank(id: string): number {
  const [, role, number] = teacher.exec(id) ?? [];
  return (role === 'tutor' ? 0 : 1000) + Number(number);
}

/** "Tutor 2", or "Tutor" where there is only one. */
export function teacherName(id: string, all: readonly string[]): string {
  const [, role = id, number = ''] = teacher.exec(id) ?? [];
  const alone = all.filter((one) => one.startsWith(role)).length === 1;
  return `${role.charAt(0).toUpperCase()}${role.slice(1)}${alone ? '' : ` ${number}`}`;
}

/** Whether a task is a person's own work or everybody's, or asks for this tool; a teacher has what asks for them alone. */
export function concerns(task: WeekTask, who: string, isPerson: boolean): boolean {
  return task.personId === who || task.tools.includes(who) || (isPerson && task.kind === 'demonstration');
}

/**
 * What each of these does at an instant. Hands rest outside of teaching hours, also where a long step pauses for dinner or the night; a press
 * holds what is in it until it is taken out.
 */
export function doingAt<Task extends WeekTask>(
  tasks: readonly Task[],
  hours: readonly Window[],
  who: readonly string[],
  at: number,
  isPerson: (id: string) => boolean,
): readonly Doing<Task>[] {
  const open = hours.some(({ from, to }) => from <= at && at < to);
  const isAtHand = (task: Task) => task.kind === 'hands' || task.kind === 'demonstration';
  return who.map((id) => {
    const own = tasks.filter((task) => concerns(task, id, isPerson(id)));
    const going = own.filter((task) => task.startAt <= at && at < (task.heldUntil ?? task.endAt));
    const atHand = open ? going.filter((task) => isAtHand(task) && at < task.endAt) : [];
    const next = own
      .filter((task) => isAtHand(task) && task.startAt > at)
      .reduce<Task | null>((first, task) => (first === null || task.startAt < first.startAt ? task : first), null);
    return { who: id, now: atHand, waiting: going.filter((task) => !isAtHand(task)), next };
  });
}
