/**
 * Who may do what. `watch` looks on and may press Stop, `operate` makes runs and writes down what belongs to them, `manage` changes the stand's own
 * settings, replaces or removes records, and decides who else may come in. Each includes the ones before it.
 */
export const roles = ['watch', 'operate', 'manage'] as const;
export type Role = (typeof roles)[number];

/** What a route asks of whoever calls it; `open` asks nothing, for the page itself and for pairing. */
export type Needed = 'open' | Role;

export const isRole = (text: unknown): text is Role => roles.some((role) => role === text);

/** Whether `role` (null: nobody known) is enough where `needed` is asked. */
export function mayDo(role: Role | null, needed: Needed): boolean {
  if (needed === 'open') return true;
  return role !== null && roles.indexOf(role) >= roles.indexOf(needed);
}

/** What a route asks where it says nothing itself: looking needs `watch`, anything else `operate`. */
export function usualNeed(method: string): Role {
  return method === 'GET' || method === 'HEAD' ? 'watch' : 'operate';
}
