/** Words of the Shelf's questions, apart from their shapes so that the page carries only the words. */

export const shelfSorts = [
  'attention',
  'title',
  'author',
  'year',
  'shelf mark',
  'least work',
  'most work',
  'height',
  'newest',
] as const;
export type ShelfSort = (typeof shelfSorts)[number];

/** Whether a book waits for somebody to look at a hazard, has one that was confirmed, or neither. */
export const hazardFilters = ['undecided', 'confirmed', 'none'] as const;

/** Columns of the list that a person may show or hide; rank and book are always there. */
export const shelfColumns = ['why here', 'hand-work', 'fate', 'stands', 'place', 'date', 'binding'] as const;
export type ShelfColumn = (typeof shelfColumns)[number];
