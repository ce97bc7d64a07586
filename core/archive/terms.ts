/**
 * Our words for parts and materials beside the identifiers of open thesauri, so that what leaves the workshop can be matched elsewhere. Only
 * identifiers that were read at their source stand here; most of our words have none. Ids are references; no label or scope note of a
 * thesaurus is copied.
 */

type Thesaurus = 'Language of Bindings' | 'Art & Architecture Thesaurus';
export type Term = Readonly<{
  ours: string;
  of: 'part' | 'binding' | 'material' | 'operation';
  thesaurus: Thesaurus;
  /** How the two stand, in the words of SKOS: the same, nearly the same, theirs the wider, or the thing that ours is made of or works on. */
  match: 'exact' | 'close' | 'broad' | 'related';
  uri: string;
}>;

/** Language of Bindings, Ligatus, University of the Arts London: concepts by number. */
function lob(id: number): Pick<Term, 'thesaurus' | 'uri'> {
  return { thesaurus: 'Language of Bindings', uri: `http://w3id.org/lob/concept/${id}` };
}

/** Getty Research Institute, Art & Architecture Thesaurus (ODC-By 1.0). */
function aat(id: number): Pick<Term, 'thesaurus' | 'uri'> {
  return { thesaurus: 'Art & Architecture Thesaurus', uri: `http://vocab.getty.edu/aat/${id}` };
}

export const terms: readonly Term[] = [
  { ours: 'endpapers', of: 'part', match: 'close', ...lob(1317) },
  { ours: 'headbands', of: 'part', match: 'close', ...lob(2370) },
  { ours: 'spine lining', of: 'part', match: 'exact', ...lob(1619) },
  { ours: 'edges', of: 'part', match: 'exact', ...lob(1226) },
  { ours: 'vellum', of: 'binding', match: 'related', ...aat(300011851) },
  { ours: 'full leather', of: 'binding', match: 'related', ...aat(300011845) },
  { ours: 'leather', of: 'material', match: 'exact', ...aat(300011845) },
  { ours: 'repair paper', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'kraft paper', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'Japanese tissue', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'endpaper', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'label paper', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'blotting paper', of: 'material', match: 'broad', ...aat(300014109) },
  { ours: 'guard sections', of: 'operation', match: 'related', ...lob(3282) },
  { ours: 'headbands', of: 'operation', match: 'related', ...lob(2370) },
  { ours: 'new endpapers', of: 'operation', match: 'related', ...lob(1317) },
  { ours: 'reline', of: 'operation', match: 'related', ...lob(1619) },
];
