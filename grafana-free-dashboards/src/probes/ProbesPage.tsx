export function ProbesPage() {
  return null;
}
