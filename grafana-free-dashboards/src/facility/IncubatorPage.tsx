export function IncubatorPage(_: { incubator: string }) {
  return null;
}
