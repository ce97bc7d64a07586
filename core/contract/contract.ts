/** The only list of what the page may ask of the workshop: one small contract a room. */
import { workshopContract } from './workshop.ts';

export const contract = {
  workshop: workshopContract,
};
