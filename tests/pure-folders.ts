/** Folders whose tests leave nothing behind: no timer, no socket, no process. One process runs them one after the other, which starts them sooner. */
export const pureFolders = ['access', 'advice', 'domain', 'drill', 'published', 'run', 'trace'] as const;
