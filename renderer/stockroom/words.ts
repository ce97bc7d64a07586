/** How the cupboard's figures are said on the page. */
import type { StockLine } from '../../core/contract/stockroom.ts';
import type { CoverState } from '../../core/stock/cover.ts';
import { dayName } from '../../core/stock/cover.ts';
import { amountWords, exactWords, toMillionths } from '../../core/stock/ledger.ts';
import type { StockUnit } from '../../core/stock/material.ts';
import { readNumber } from '../../core/units/numbers.ts';
import type { MarkKind } from '../parts/notices.tsx';

export const markOf: Readonly<Record<CoverState, MarkKind | null>> = {
  short: 'harm',
  order: 'caution',
  later: 'waiting',
  lasts: 'settled',
  unused: null,
};

/** The most pressing first. */
export const statesInOrder: readonly CoverState[] = ['short', 'order', 'later', 'lasts', 'unused'];

/** "order by Tue 12 May", "runs short", in a few words for the list. */
export function standingWords({ cover, advice, arriving }: StockLine): string {
  switch (cover.state) {
    case 'short':
      return arriving > 0 ? 'runs short before it comes' : 'runs short: order today';
    case 'order':
      return advice?.orderBy ? `order by ${dayName(advice.orderBy)}` : 'order today';
    case 'later':
      return 'short for treatments to come';
    case 'lasts':
      return 'all promised is there';
    case 'unused':
      return 'nothing asks for it';
  }
}

/** "12 days", "over 90 days", or nothing where there is no use to reckon with. */
export function daysWords({ cover }: Pick<StockLine, 'cover'>, horizonDays: number): string {
  const { days, usualDays, state } = cover;
  if (days !== null) return days === 1 ? '1 day' : `${days} days`;
  if (usualDays !== null) return usualDays > horizonDays ? `over ${horizonDays} days` : `about ${usualDays} days`;
  return state === 'unused' ? '–' : `over ${horizonDays} days`;
}

/** Days of cover as a share of the horizon; null where there is none to show. */
export function coverShare({ cover }: Pick<StockLine, 'cover'>, horizonDays: number): number | null {
  const days = cover.days ?? cover.usualDays;
  if (days === null) return cover.state === 'unused' ? null : 1;
  return Math.min(1, days / horizonDays);
}

export function quantityWords(quantity: number, unit: StockUnit): string {
  return amountWords(toMillionths(quantity), unit);
}

/** Of the ledger's own lines and of packs: as it was typed. */
export function typedWords(quantity: number, unit: StockUnit): string {
  return exactWords(toMillionths(quantity), unit);
}

/** "How many pieces went" of what is counted, "How much went, g" of what is measured. */
export function askWords(what: string, unit: StockUnit): string {
  return unit === 'piece' || unit === 'sheet'
    ? `How many ${unit}s ${what.replace(/^was /, 'were ').replace(/^is /, 'are ')}`
    : `How much ${what}, ${unit}`;
}

/** What a person typed as a number; not a number where it is none, which the workshop answers in words. */
export function typedNumber(text: string): number {
  const read = readNumber(text);
  return read.ok ? read.value : Number.NaN;
}
