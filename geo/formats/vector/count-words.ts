/** "1 point was", "2 points were": for notes. */
export function counted(count: number, one: string, many: string): string {
  return count === 1 ? `1 ${one} was` : `${count} ${many} were`;
}
