/**
 * What a catch test of a seed drill says, and how well: pure functions without input, output, clock or chance. Figures are SI with grams
 * for mass and carry their unit in their type, or in their name; fractions are fractions, 0.9 for 90 %. What cannot be computed with is
 * refused with a `DomainError`, whose message is a sentence for the person who typed the figure.
 *
 * Start with {@link catchbench#units} and {@link catchbench#error}.
 *
 * The drill and the test: {@link catchbench#geometry} from turns to area, {@link catchbench#circumference} and {@link catchbench#shaft}
 * for what a turn is, {@link catchbench#testLength} for how long a test lasts, {@link catchbench#enoughTurns} for how long it should.
 *
 * What to sow: {@link catchbench#targetUnits} takes a target in any unit in use; behind it {@link catchbench#seedingTarget},
 * {@link catchbench#volumeRate}, {@link catchbench#seedUnits} and {@link catchbench#bulkDensity}.
 *
 * The seed: {@link catchbench#seedLot} for tags and pure live seed, {@link catchbench#germination} and {@link catchbench#purity} for how
 * far to trust a tag, {@link catchbench#countedSample} for a lot's own seed weight, {@link catchbench#species} for the published ones,
 * {@link catchbench#seedNeeded} for bags and refills.
 *
 * Mixes: {@link catchbench#seedMix} and {@link catchbench#mixTag} for what they are made of, {@link catchbench#mixSeeds} for their seeds,
 * {@link catchbench#speciesCount} for counting them out of a catch.
 *
 * What makes a rate uncertain: {@link catchbench#uncertainty} for the budget, {@link catchbench#correlated} for doubts that hang
 * together, {@link catchbench#repeats}, {@link catchbench#repeatability} and {@link catchbench#spread} for repeated tests,
 * {@link catchbench#rows} with {@link catchbench#rowLimits} for the rows of a drill, {@link catchbench#fieldCheck} and
 * {@link catchbench#fieldChecks} for what the field says.
 *
 * The scale: {@link catchbench#scaleCalibration} from its weighings ({@link catchbench#scaleSteps}), with
 * {@link catchbench#scaleDiagnostics} and {@link catchbench#scaleDoubt}; {@link catchbench#scaleHealth} and
 * {@link catchbench#scaleHealthReport} for how it does, {@link catchbench#zeroReturn}; {@link catchbench#weighing},
 * {@link catchbench#scaleClass}, {@link catchbench#loadCellClass}, {@link catchbench#checkMasses}.
 *
 * While the wheel turns: {@link catchbench#rate}, {@link catchbench#speed}, {@link catchbench#forecast} of the catch and
 * {@link catchbench#verdict} on it, {@link catchbench#trace} with {@link catchbench#reading} and {@link catchbench#finding}.
 *
 * The next setting: {@link catchbench#advise} with {@link catchbench#advice}.
 *
 * Statistics: {@link catchbench#statistics}, {@link catchbench#poisson}, {@link catchbench#chiSquare}, {@link catchbench#grubbs},
 * {@link catchbench#outlier}, {@link catchbench#oneWay}, {@link catchbench#straightLine}, {@link catchbench#regression},
 * {@link catchbench#inversePrediction}, {@link catchbench#autocorrelation}, {@link catchbench#incompleteBeta},
 * {@link catchbench#incompleteGamma}, {@link catchbench#share}.
 *
 * @packageDocumentation
 */

export * as advise from './advice/advise.ts';
export * as advice from './advice/types.ts';
export * as autocorrelation from './autocorrelation.ts';
export * as bulkDensity from './bulk-density.ts';
export * as checkMasses from './check-masses.ts';
export * as chiSquare from './chi-square.ts';
export * as circumference from './circumference.ts';
export * as correlated from './correlated.ts';
export * as countedSample from './counted-sample.ts';
export * as enoughTurns from './enough-turns.ts';
export * as error from './error.ts';
export * as fieldCheck from './field-check.ts';
export * as fieldChecks from './field-checks.ts';
export * as forecast from './forecast.ts';
export * as geometry from './geometry.ts';
export * as germination from './germination.ts';
export * as grubbs from './grubbs.ts';
export * as incompleteBeta from './incomplete-beta.ts';
export * as incompleteGamma from './incomplete-gamma.ts';
export * as inversePrediction from './inverse-prediction.ts';
export * as loadCellClass from './load-cell-class.ts';
export * as mixSeeds from './mix-seeds.ts';
export * as mixTag from './mix-tag.ts';
export * as oneWay from './one-way.ts';
export * as outlier from './outlier.ts';
export * as poisson from './poisson.ts';
export * as purity from './purity.ts';
export * as rate from './rate.ts';
export * as regression from './regression.ts';
export * as repeatability from './repeatability.ts';
export * as repeats from './repeats.ts';
export * as rowLimits from './row-limits.ts';
export * as rows from './rows.ts';
export * as scaleCalibration from './scale-calibration.ts';
export * as scaleClass from './scale-class.ts';
export * as scaleDiagnostics from './scale-diagnostics.ts';
export * as scaleDoubt from './scale-doubt.ts';
export * as scaleHealth from './scale-health.ts';
export * as scaleHealthReport from './scale-health-report.ts';
export * as scaleSteps from './scale-steps.ts';
export * as seedLot from './seed-lot.ts';
export * as seedMix from './seed-mix.ts';
export * as seedNeeded from './seed-needed.ts';
export * as seedUnits from './seed-units.ts';
export * as seedingTarget from './seeding-target.ts';
export * as shaft from './shaft.ts';
export * as share from './share.ts';
export * as species from './species.ts';
export * as speciesCount from './species-count.ts';
export * as speed from './speed.ts';
export * as spread from './spread.ts';
export * as statistics from './statistics.ts';
export * as straightLine from './straight-line.ts';
export * as targetUnits from './target-units.ts';
export * as testLength from './test-length.ts';
export * as finding from './trace/finding.ts';
export * as reading from './trace/reading.ts';
export * as trace from './trace/trace.ts';
export * as uncertainty from './uncertainty.ts';
export * as units from './units.ts';
export * as verdict from './verdict.ts';
export * as volumeRate from './volume-rate.ts';
export * as weighing from './weighing.ts';
export * as zeroReturn from './zero-return.ts';

/*
 * Groundwork of the modules above, not for use from outside: what else lies in advice/ and trace/, and
 * double-double.ts rate-bank.ts rate-batch.ts rate-filter.ts root.ts sample.ts scale-faults.ts words.ts
 * A file right in this folder is either exported or named here; a test sees to it.
 */
