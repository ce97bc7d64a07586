/** Two ways of sharing out the same course's copies: who changes, what it wins and what it costs. */
import type { AllocationValue } from './allocation.ts';

/** What is kept of an allocation beside its pairs; null parts where it was shared out by hand. */
export type KeptValue = Readonly<{ value: AllocationValue; proven: boolean; gap: number | null }>;
