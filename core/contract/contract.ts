/**
 * The only list of what the page may ask of the workshop: one small contract a room. A new room is one line here, and one in
 * electron/desk/router.ts for who answers it.
 */
import { archiveContract } from './archive.ts';
import { backlogContract } from './backlog.ts';
import { benchContract } from './bench.ts';
import { courseContract } from './course.ts';
import { coursePeopleContract } from './course-people.ts';
import { coursePlanContract } from './course-plan.ts';
import { daybookContract } from './daybook.ts';
import { fatesContract } from './fates.ts';
import { offcutsContract } from './offcuts.ts';
import { operationsContract } from './operations.ts';
import { photographsContract } from './photographs.ts';
import { reckonerContract } from './reckoner.ts';
import { recordContract } from './record.ts';
import { sharingContract } from './sharing.ts';
import { shelfContract } from './shelf.ts';
import { shelvingContract } from './shelving.ts';
import { stockroomContract } from './stockroom.ts';
import { takeinContract } from './takein.ts';
import { workshopContract } from './workshop.ts';

export const contract = {
  workshop: workshopContract,
  archive: archiveContract,
  shelf: shelfContract,
  takein: takeinContract,
  shelving: shelvingContract,
  operations: operationsContract,
  fates: fatesContract,
  backlog: backlogContract,
  bench: benchContract,
  offcuts: offcutsContract,
  stockroom: stockroomContract,
  course: courseContract,
  coursePlan: coursePlanContract,
  coursePeople: coursePeopleContract,
  daybook: daybookContract,
  reckoner: reckonerContract,
  photographs: photographsContract,
  record: recordContract,
  sharing: sharingContract,
};
