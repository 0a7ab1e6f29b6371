/** A key for something new, from its name: "Aunt Jo" becomes "aunt_jo", and "aunt_jo_2" when that is taken. */
export function freshKey(name: string, taken: string[]): string {
  const base =
    name
      .trim()
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '_')
      .replaceAll(/^_|_$/g, '') || 'new';
  if (!taken.includes(base)) return base;
  for (let n = 2; ; n += 1) if (!taken.includes(`${base}_${n}`)) return `${base}_${n}`;
}
