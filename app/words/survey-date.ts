/** A survey's date as it is typed: a year, or a day of the calendar; else what to type instead. */
export function readSurveyDate(
  text: string,
): { readonly value: string } | { readonly wrong: string } {
  const found = /^(\d{4})(?:-(\d{1,2})-(\d{1,2}))?$/.exec(text.trim());
  if (found) {
    const [, year, month, day] = found;
    if (month === undefined || day === undefined) return { value: year! };
    const at = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
    // The thirtieth of February comes back as a day of March.
    if (at.getUTCMonth() === Number(month) - 1 && at.getUTCDate() === Number(day)) {
      return { value: [year, month.padStart(2, '0'), day.padStart(2, '0')].join('-') };
    }
  }
  return { wrong: 'Write a year, such as 2024, or year-month-day, such as 2024-03-18.' };
}
