/** The seven rooms. A room that is built names its component here; the others say what they will be for. */
import { type ComponentType, type LazyExoticComponent, lazy } from 'react';

export type Room = Readonly<{
  key: string;
  name: string;
  /** What the room is for, for when there is nothing in it yet. */
  purpose: string;
  Content?: LazyExoticComponent<ComponentType>;
}>;

export const rooms: readonly Room[] = [
  {
    key: 'shelf',
    name: 'Shelf',
    purpose: 'The books in the order they deserve attention, why, and what to do with each.',
    Content: room(() => import('../shelf/shelf.tsx').then((file) => file.ShelfRoom)),
  },
  {
    key: 'bench',
    name: 'Bench',
    purpose: 'This week as bars of hand-work and drying: what is in which press and when it comes out.',
    Content: room(() => import('../bench/bench.tsx').then((file) => file.BenchRoom)),
  },
  {
    key: 'offcuts',
    name: 'Offcuts',
    purpose: 'Salvaged cloth and papers by colour, pattern, date and size, with the books they would suit.',
    Content: room(() => import('../offcuts/offcuts.tsx').then((file) => file.OffcutsRoom)),
  },
  {
    key: 'stockroom',
    name: 'Stockroom',
    purpose: 'Days of cover for each material, and the order list with its dates.',
    Content: room(() => import('../stockroom/stockroom.tsx').then((file) => file.StockroomRoom)),
  },
  {
    key: 'course',
    name: 'Course',
    purpose: 'The course week as a timetable: the people, who has which copy, whether it all fits.',
    Content: room(() => import('../course/course.tsx').then((file) => file.CourseRoom)),
  },
  {
    key: 'day-book',
    name: 'Day-book',
    purpose: 'What was done, by day and by book: the treatment record.',
    Content: room(() => import('../daybook/daybook.tsx').then((file) => file.DayBookRoom)),
  },
  {
    key: 'reckoner',
    name: 'Reckoner',
    purpose: 'Single calculations with the drawing beside the numbers.',
    Content: room(() => import('../reckoner/reckoner.tsx').then((file) => file.ReckonerRoom)),
  },
];

/** How the workshop works. */
const workshopPage: Room = {
  key: 'workshop',
  name: 'How we work',
  purpose: 'Hours, units, money, and what makes a book urgent here.',
  Content: room(() => import('./habits.tsx').then((file) => file.HabitsPage)),
};

/** Every sheet of every room in one place, with its choices. */
const printsPage: Room = {
  key: 'prints',
  name: 'Prints',
  purpose: 'Every sheet there is, for a week, a day, a book or a course.',
  Content: room(() => import('../archive/prints.tsx').then((file) => file.PrintsPage)),
};

const safeKeepingPage: Room = {
  key: 'safe-keeping',
  name: 'Safe keeping',
  purpose: 'Backups and going back, the whole workshop as a zip, lists to take away.',
  Content: room(() => import('../archive/safe-keeping.tsx').then((file) => file.SafeKeepingPage)),
};

/** What is not one of the seven rooms, at the foot of the rail. */
export const pages: readonly Room[] = [printsPage, safeKeepingPage, workshopPage];

/** A room's component, fetched when the room is first opened: `Content: room(() => import('../bench/bench.tsx').then((file) => file.BenchRoom))`. */
function room(load: () => Promise<ComponentType>): LazyExoticComponent<ComponentType> {
  return lazy(async () => ({ default: await load() }));
}
