/**
 * The words of lists for the workshop's own terms: “hf. calf” is half leather, “wreck” is salvage. Terms of cloth grains after Sadleir 1930
 * and Carter 1932 as book.ts has them; the rest common practice, no source.
 */
import type { Binding, Completeness, Fate, GrainPattern, Scarcity, Use } from './book.ts';

type Words<T> = readonly (readonly [RegExp, T])[];

const leather = '(?:calf|sheep(?:skin)?|roan|morocco|goat(?:skin)?|leather|skiver|basan|pigskin|russia)';

const bindingWords: Words<Binding> = [
  [/\b(unbound|disbound|no binding|in sheets|loose sheets|sewn only)\b/, 'unbound'],
  [/\bvellum\b|\bparchment\b/, 'vellum'],
  [new RegExp(`(\\b(half|hf|1/2)\\b\\.?|½)[ -]?(\\w+ )?${leather}\\b|\\bhalf[ -]bound\\b`), 'half leather'],
  [new RegExp(`(\\b(quarter|qtr|1/4)\\b\\.?|¼)[ -]?(\\w+ )?${leather}\\b`), 'quarter leather'],
  [/(\b(half|hf|1\/2)\b\.?|½)[ -]?(\w+ )?cloth\b/, 'half cloth'],
  [/(\b(quarter|qtr|1\/4)\b\.?|¼)[ -]?(\w+ )?cloth\b|\bcloth (?:spine|back)(?:ed)?\b/, 'quarter cloth'],
  [new RegExp(`\\b${leather}\\b`), 'full leather'],
  [/\b(wrappers?|wraps|paper covers?|stitched in paper|paperback|self[ -]wrappers)\b/, 'paper wrappers'],
  [/\b(cloth|buckram|case|cased|publisher'?s binding)\b/, 'cloth case'],
  [/\b(boards|paper[ -]boards|bds|papered boards)\b/, 'paper boards'],
];

const grainWords: Words<GrainPattern> = [
  [/\bdot[ -]?(?:and|&)?[ -]?lines?\b|\bdot[ -]and[ -]ribbon\b/, 'dot and line'],
  [/\blinen[ -]?(?:weave|grain)?\b/, 'linen weave'],
  [/\bbuckram\b/, 'buckram'],
  [/\bmorocco[ -]?(?:grain(?:ed)?)?[ -]cloth\b|\bmorocco[ -]grain|^morocco$/, 'morocco'],
  [/\bdiaper\b/, 'diaper'],
  [/\bripple[sd]?\b|\brippled\b/, 'ripple'],
  [/\b(?:fine[ -])?rib(?:bed)?(?:[ -]?grain)?\b/, 'rib'],
  [/\bbead(?:ed)?(?:[ -]?grain)?\b/, 'bead'],
  [/\bsand(?:[ -]?grain(?:ed)?)?\b/, 'sand'],
  [/\bpebbled?(?:[ -]?grain(?:ed)?)?\b/, 'pebble'],
  [/\bwav[ey]\b/, 'wave'],
  [/\bnet\b/, 'net'],
  [/\bhoney[ -]?comb\b/, 'honeycomb'],
  [/\bbubbled?\b/, 'bubble'],
  [/\bplain\b|\bsmooth\b/, 'plain'],
];

const fateWords: Words<Fate> = [
  [/\bpractice|\bcourse\b|\bteach|\bstudent|\blearn/, 'practice'],
  [/\bsalvage|\bwreck|\bbreak|\bparts\b|\bdonor/, 'salvage'],
  [/\bclean/, 'clean only'],
  [/\bleave|\bas (?:it )?is\b|\bnothing\b|\bkeep\b/, 'leave'],
  [/\brestor|\brepair|\bmend|\bfix\b|\bconserve/, 'restore'],
];

const useWords: Words<Use> = [
  [/\bdaily|\bevery day|\bread a lot/, 'daily reading'],
  [/\boccasional|\breading\b|\bread\b|\bsometimes/, 'occasional reading'],
  [/\breference|\blook(?:ed)? up|\bconsult/, 'reference'],
  [/\bdisplay|\bshow\b|\bexhibit/, 'display'],
  [/\bteach|\bcourse|\bpractice|\bstudent/, 'teaching'],
];

const scarcityWords: Words<Scarcity> = [
  [/\buncommon|\bnot common/, 'uncommon'],
  [/\bcommon|\bplenty/, 'common'],
  [/\bscarce/, 'scarce'],
  [/\brare/, 'rare'],
  [/\bunknown|^\?+$|\bnot known/, 'unknown'],
];

const completenessWords: Words<Completeness> = [
  [/\bincomplete|\bimperfect|\black|\bwant|\bmissing|^no?$|^n$|\bnot complete/, 'incomplete'],
  [/\bcomplete|\bcollated|^y(?:es)?$|\ball there/, 'complete'],
  [/\bunknown|^\?+$|\bnot (?:known|checked|collated)/, 'unknown'],
];

const significanceWords: Words<0 | 1 | 2 | 3> = [
  [/^0$|^none\b|^no\b|^-+$/, 0],
  [/^1$|^\*$|^some\b|^little\b|^slight/, 1],
  [/^2$|^\*\*$|^considerable|^much\b|^high\b/, 2],
  [/^3$|^\*{3,}$|^outstanding|^great|^very high|^highest/, 3],
];

function first<T>(words: Words<T>, text: string): T | null {
  const plain = text.toLowerCase().replace(/[’‘`]/g, "'").replace(/\s+/g, ' ').trim();
  return words.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

export const bindingInWords = (text: string) => first(bindingWords, text);
export const grainInWords = (text: string) => first(grainWords, text);
export const fateInWords = (text: string) => first(fateWords, text);
export const useInWords = (text: string) => first(useWords, text);
export const scarcityInWords = (text: string) => first(scarcityWords, text);
export const completenessInWords = (text: string) => first(completenessWords, text);
export const significanceInWords = (text: string) => first(significanceWords, text);

const colours =
  'black|white|grey|gray|brown|red|maroon|crimson|scarlet|purple|plum|violet|lilac|mauve|blue|navy|indigo|green|olive|sage|turquoise|teal|yellow|ochre|mustard|orange|terracotta|tan|buff|cream|fawn|drab|slate|pink|rose|claret|puce|gold|emerald';
const colour = new RegExp(
  `\\b(?:(?:dark|light|pale|deep|bright|dull|bottle|royal|sky|apple|grass|emerald|olive|sage|blackish|old|faded)[ -])*(?:${colours})(?:ish)?(?:[ -](?:${colours}))?\\b`,
);

/** The colour named in a description of a binding, such as “dark green” of “publisher's dark green diaper cloth gilt”; empty where none is. */
export function colourInWords(text: string): string {
  return colour.exec(text.toLowerCase())?.[0] ?? '';
}
