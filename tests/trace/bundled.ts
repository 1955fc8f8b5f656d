export { bundled } from '../bundled.ts';

/** Whether long campaigns run whole, or a seeded sample of them. */
export const whole = process.env.CATCHBENCH_WHOLE === '1';
