/** "1 row" or "2 rows": a number with the word for what is counted; `many` where an s is not enough. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
