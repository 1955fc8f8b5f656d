import { homedir } from 'node:os';
import { join } from 'node:path';

/**
 * The folder of the records: CATCHBENCH_DATA where it is set, else where programs of this system keep a user's data
 * (XDG base directory specification 0.8 on Linux and its kin).
 */
export function dataFolder(
  environment: NodeJS.ProcessEnv = process.env,
  platform: NodeJS.Platform = process.platform,
  home: string = homedir(),
): string {
  if (environment.CATCHBENCH_DATA) return environment.CATCHBENCH_DATA;
  if (platform === 'win32') {
    return join(environment.LOCALAPPDATA ?? join(home, 'AppData', 'Local'), 'catchbench');
  }
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'catchbench');
  return join(environment.XDG_DATA_HOME ?? join(home, '.local', 'share'), 'catchbench');
}
