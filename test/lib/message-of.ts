/** What a call throws, in words. */
export function messageOf(call: () => unknown): string {
  try {
    call();
  } catch (error) {
    return (error as Error).message;
  }
  return 'nothing was thrown';
}
