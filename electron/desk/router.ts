/**
 * Every room's answers in one place. A new room is one line here (`shelf,`) and one in core/contract/contract.ts
 * (`shelf: shelfContract,`); a question that nobody answers does not compile.
 */
import type { Router } from '@orpc/server';
import type { contract } from '../../core/contract/contract.ts';
import { archive } from './archive.ts';
import { backlog } from './backlog.ts';
import { bench } from './bench.ts';
import { course } from './course.ts';
import { coursePeople } from './course-people.ts';
import { coursePlan } from './course-planning.ts';
import { daybook } from './daybook.ts';
import type { Desk } from './desk.ts';
import { fates } from './fates.ts';
import { offcuts } from './offcuts.ts';
import { operations } from './operations.ts';
import { photographs } from './photographs.ts';
import { reckoner } from './reckoner.ts';
import { record } from './record.ts';
import { sharing } from './sharing.ts';
import { shelf } from './shelf.ts';
import { shelving } from './shelving.ts';
import { stockroom } from './stockroom.ts';
import { takein } from './takein.ts';
import { workshop } from './workshop.ts';

/** Complete: a room of the contract that nobody answers does not compile. */
export const router: Router<typeof contract, Desk> = {
  workshop,
  archive,
  shelf,
  takein,
  shelving,
  operations,
  fates,
  backlog,
  bench,
  offcuts,
  stockroom,
  course,
  coursePlan,
  coursePeople,
  daybook,
  reckoner,
  photographs,
  record,
  sharing,
};
