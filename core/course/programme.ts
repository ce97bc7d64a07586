/** What fills a course beside the bench: who teaches and helps, talks, free time and outings. */

export const roles = ['tutor', 'helper', 'cook'] as const;
export type Helper = Readonly<{ name: string; role: (typeof roles)[number]; diet: string; note: string }>;
