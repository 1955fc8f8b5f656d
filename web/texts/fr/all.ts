export { fr as texts } from './index.ts';
export { told } from './told.ts';
