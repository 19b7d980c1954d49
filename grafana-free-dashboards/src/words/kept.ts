// What this phone keeps for itself. Private windows and full disks may refuse; then the choice lasts as long as the page.

export function kept(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

export function keep(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {
    // Nothing to do: the page goes on with the value in memory.
  }
}
