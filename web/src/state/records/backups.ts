/** When a backup was made, by the name that the server gave it; the name itself where it says no moment. */
export function momentOfBackup(name: string): string {
  const found = /^(\d{4}-\d{2}-\d{2})T(\d{2})-(\d{2})-(\d{2})-(\d{3})Z/.exec(name);
  if (found === null) return name;
  const [, day, hour, minute, second, millis] = found;
  return `${day}T${hour}:${minute}:${second}.${millis}Z`;
}
