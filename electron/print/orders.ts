/** The order list on paper: a part for each supplier with its days, what is on its way, and the rules the figures rest on. */
import type { FileAnswer } from '../../core/contract/ask.ts';
import type { OrderList, SupplierTerms } from '../../core/contract/stockroom.ts';
import { ok, type Result, refuse } from '../../core/result.ts';
import { dayName } from '../../core/stock/cover.ts';
import { amountWords, toMillionths } from '../../core/stock/ledger.ts';
import { type Letterhead, paragraph, printSheet, section, table } from './sheet.ts';

/** The order list, portrait. Refuses an empty one. */
export async function printOrders(list: OrderList, workshop: Letterhead): Promise<Result<FileAnswer>> {
  const { suppliers, arriving, currency, today } = list;
  if (suppliers.length === 0 && arriving.length === 0)
    return refuse('There is nothing to order and nothing on its way.');
  const money = new Intl.NumberFormat('en-GB', { style: 'currency', currency });
  const inMoney = (minor: number) => money.format(minor / 10 ** (money.resolvedOptions().maximumFractionDigits ?? 2));
  const amount = (quantity: number, unit: Parameters<typeof amountWords>[1]) =>
    amountWords(toMillionths(quantity), unit);

  const bySupplier = suppliers.flatMap(({ supplier, lines, costMinor, orderBy, terms, parcels }) => [
    section(supplier || 'No supplier named'),
    paragraph(`${orderBy === null ? 'No day presses' : `Order by ${dayName(orderBy)}`}; ${inMoney(costMinor)} in all.`),
    ...(terms.id === null ? [] : [paragraph(termsWords(terms, inMoney))]),
    ...parcels.map((parcel) =>
      paragraph(
        `${parcel.materials.join(', ')}: ${parcel.orderBy === null ? 'whenever you like' : `order by ${dayName(parcel.orderBy)}`}, ${inMoney(parcel.goodsMinor + parcel.postageMinor)} with postage. ${parcel.words.join(' ')}`,
      ),
    ),
    table(
      [
        { head: 'Order by', share: 1.2 },
        { head: 'Material', share: 2.6 },
        { head: 'Packs', share: 0.7, align: 'right' },
        { head: 'In all', share: 1.1, align: 'right' },
        { head: 'On hand', share: 1.1, align: 'right' },
        { head: 'Cost', share: 1, align: 'right' },
        { head: 'Place', share: 1.4 },
        { head: 'Because', share: 4.4 },
      ],
      lines.map(({ material, advice, onHand, because, substitutes }) => [
        advice.orderBy === null ? 'no day' : `${dayName(advice.orderBy)}${advice.late ? ' (late)' : ''}`,
        material.name,
        String(advice.packs),
        amount(advice.quantity, material.unit),
        amount(onHand, material.unit),
        inMoney(advice.costMinor),
        material.place,
        [
          because,
          ...substitutes.map((one) => `${one.name} would do, ${amount(one.onHand, one.unit)} on hand.`),
          ...(material.hazardSheet === '' ? [] : [`Hazard sheet: ${material.hazardSheet}`]),
        ].join(' '),
      ]),
    ),
  ]);
  const onTheWay =
    arriving.length === 0
      ? []
      : [
          section('On its way'),
          table(
            [
              { head: 'Due', share: 1 },
              { head: 'Material', share: 3 },
              { head: 'Quantity', share: 1, align: 'right' },
              { head: 'From', share: 3 },
              { head: 'Came', share: 1 },
            ],
            arriving.map((row) => [
              `${dayName(row.dueOn)}${row.overdue ? ' (overdue)' : ''}`,
              row.name,
              amount(row.quantity, row.unit),
              row.supplier,
              '……',
            ]),
          ),
        ];
  const bytes = await printSheet({
    title: 'Order list',
    lead: `As of ${dayName(today)} ${today.slice(0, 4)}`,
    workshop,
    body: [...bySupplier, ...onTheWay, section('What the figures rest on'), ...list.rules.map(paragraph)],
  });
  return ok({ fileName: `orders-${today}.pdf`, mediaType: 'application/pdf', base64: bytes.toString('base64') });
}

function termsWords(
  { postageMinor, freeFromMinor, minimumMinor, leadDays, note }: SupplierTerms,
  money: (minor: number) => string,
) {
  const words = [
    postageMinor === 0 ? 'No postage' : `Postage ${money(postageMinor)}`,
    freeFromMinor === null ? '' : `none from ${money(freeFromMinor)}`,
    minimumMinor === 0 ? '' : `minimum order ${money(minimumMinor)}`,
    leadDays === null ? '' : `a parcel takes ${leadDays === 1 ? 'a day' : `${leadDays} days`}`,
    note,
  ];
  return `${words.filter(Boolean).join('; ')}.`;
}
