export function CallingPage() {
  return null;
}
