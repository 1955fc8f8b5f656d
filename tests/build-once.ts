import { build } from '../server/build.ts';

/** Tests that start the real program or open the real page want what the sources say now, not what was built some day. */
export default async function buildOnce(): Promise<void> {
  await build({ quiet: true });
}
