/** Words to choose from where any may be typed. */

export const formatWords = [
  'crown 8vo',
  'demy 8vo',
  'post 8vo',
  'foolscap 8vo',
  'royal 8vo',
  'large post 8vo',
  'demy 12mo',
  'crown 4to',
  'demy 4to',
  'royal 4to',
  'crown folio',
];

export const clothWords = [
  'black',
  'blue',
  'bright green',
  'brown',
  'buff',
  'dark blue',
  'dark brown',
  'dark green',
  'dark red',
  'green',
  'grey',
  'maroon',
  'navy',
  'ochre',
  'olive green',
  'purple',
  'red',
  'tan',
];
