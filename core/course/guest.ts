/** What a person who may come tells: from when till when, what they need, eat and wish, and what they have done before. */

export const meals = ['breakfast', 'lunch', 'supper'] as const;
export type Meal = (typeof meals)[number];

/** A meal of the day; served to everybody there on that day. Minutes after midnight. */
export type MealTime = Readonly<{ meal: Meal; at: number; minutes: number }>;

/** Needs are kept whatever the wishes: nobody is placed against one. */
export const needs = ['step-free', 'en suite', 'own room', 'quiet room'] as const;
export type Need = (typeof needs)[number];

export const roomWishes = ['either', 'alone', 'share'] as const;
export type RoomWish = (typeof roomWishes)[number];

export const answers = ['never', 'with help', 'alone'] as const;
export type Answer = (typeof answers)[number];
/** By operation; what was not asked or not answered is left out. */
export type Answers = Readonly<Record<string, Answer>>;
