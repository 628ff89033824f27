/*
 * Dividing: exact angles round a part, with the equipment a shop owns.
 *
 * Conventions of every function, in short (the README of dividing-ffi has the
 * page):
 * - A call that can fail returns a dividing_status, 0 for success; a function
 *   that returns a double gives NaN instead. dividing_last_error_text says what
 *   was wrong, for this thread.
 * - Outputs come last and are written only on success.
 * - A text written to a `char **` is the caller's: dividing_text_free. A
 *   `const char *` is the library's or the handle's and is not freed.
 * - Texts are UTF-8. A length counts bytes; DIVIDING_NUL_ENDED stands for "up
 *   to the NUL". Texts of the library end with NUL.
 * - NULL is refused with a status unless a comment says otherwise; free
 *   functions accept it.
 * - Any thread may call any function; a handle may be read by many threads at
 *   a time and freed by one when the others are done.
 *
 * Written from the sources in dividing-ffi/src: change those, not this file.
 */

#ifndef DIVIDING_H
#define DIVIDING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/**
 * The version of this header; dividing_version gives that of the library.
 */
#define DIVIDING_VERSION "0.1.0"
#define DIVIDING_VERSION_MAJOR 0
#define DIVIDING_VERSION_MINOR 1
#define DIVIDING_VERSION_PATCH 0
#define DIVIDING_VERSION_NUMBER 1000

/**
 * As the length of a text: it goes up to its NUL.
 */
#define DIVIDING_NUL_ENDED SIZE_MAX

/**
 * What a call came to. 0 is success.
 *
 * The codes stand in blocks and are never used again for something else: 100
 * texts and documents, 200 values, 300 long searches, 400 the use of this
 * interface, 900 defects.
 */
enum dividing_status
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Success.
     */
    DIVIDING_STATUS_OK = 0,
    /**
     * A text could not be read as an angle or a length.
     */
    DIVIDING_STATUS_UNREADABLE_TEXT = 100,
    /**
     * A number stands without the unit it needs.
     */
    DIVIDING_STATUS_MISSING_UNIT = 101,
    /**
     * A unit that this library cannot keep exact, such as radians.
     */
    DIVIDING_STATUS_INEXACT_UNIT = 102,
    /**
     * A document is not well-formed JSON.
     */
    DIVIDING_STATUS_MALFORMED_JSON = 110,
    /**
     * A document holds a field that does not exist.
     */
    DIVIDING_STATUS_UNKNOWN_FIELD = 111,
    /**
     * A field of a document is missing, of the wrong type or unreadable.
     */
    DIVIDING_STATUS_INVALID_FIELD = 112,
    /**
     * A document says a format number that this version cannot read.
     */
    DIVIDING_STATUS_UNKNOWN_FORMAT = 113,
    /**
     * A number lies outside its limits.
     */
    DIVIDING_STATUS_OUT_OF_RANGE = 200,
    /**
     * A number is not finite (NaN or infinite).
     */
    DIVIDING_STATUS_NOT_FINITE = 201,
    /**
     * A list that needs at least one entry has none.
     */
    DIVIDING_STATUS_EMPTY_LIST = 202,
    /**
     * The same thing is named twice.
     */
    DIVIDING_STATUS_DUPLICATE = 203,
    /**
     * Two values that are fine alone do not go together.
     */
    DIVIDING_STATUS_INCONSISTENT = 204,
    /**
     * An exact result needs more digits than there is room for.
     */
    DIVIDING_STATUS_OVERFLOW = 205,
    /**
     * What was asked for does not exist, such as the plan after the last.
     */
    DIVIDING_STATUS_NOT_FOUND = 206,
    /**
     * The measured or given data cannot determine the answer.
     */
    DIVIDING_STATUS_UNDETERMINED = 207,
    /**
     * A search came to its limit of work before it was done.
     */
    DIVIDING_STATUS_WORK_LIMIT = 300,
    /**
     * The caller stopped a search.
     */
    DIVIDING_STATUS_CANCELLED = 301,
    /**
     * A pointer that must not be NULL is NULL.
     */
    DIVIDING_STATUS_NULL_POINTER = 400,
    /**
     * A text is not UTF-8.
     */
    DIVIDING_STATUS_INVALID_UTF8 = 401,
    /**
     * An array of the caller is too small; the message says how many entries
     * there are.
     */
    DIVIDING_STATUS_BUFFER_TOO_SMALL = 402,
    /**
     * A pointer is not aligned for what it points to.
     */
    DIVIDING_STATUS_MISALIGNED = 403,
    /**
     * A pointer is no handle of the sort asked for, or one that was freed.
     */
    DIVIDING_STATUS_NOT_A_HANDLE = 404,
    /**
     * A defect of this library; please report the message.
     */
    DIVIDING_STATUS_INTERNAL = 900,
    /**
     * A defect of this library that was caught at the border; please report
     * the message.
     */
    DIVIDING_STATUS_PANIC = 901,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_status dividing_status;
#else
typedef int32_t dividing_status;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What lies opposite a flat.
 */
enum dividing_opposite
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Another flat.
     */
    DIVIDING_OPPOSITE_FLAT = 0,
    /**
     * What remains of the round.
     */
    DIVIDING_OPPOSITE_ROUND = 1,
    /**
     * A sharp corner.
     */
    DIVIDING_OPPOSITE_CORNER = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_opposite dividing_opposite;
#else
typedef int32_t dividing_opposite;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The sorts of settings; each says which fields of dividing_setting it fills.
 */
enum dividing_setting_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * A sort that this version has no fields for: ask for its text or JSON.
     */
    DIVIDING_SETTING_KIND_OTHER = 0,
    /**
     * The plunger in a hole of a direct plate: circle, hole.
     */
    DIVIDING_SETTING_KIND_HOLE = 1,
    /**
     * The pin of a vernier indexer through a hole and a station: hole, station.
     */
    DIVIDING_SETTING_KIND_HOLE_AT_STATION = 2,
    /**
     * A faced block on one of its faces: face.
     */
    DIVIDING_SETTING_KIND_FACE_DOWN = 3,
    /**
     * A faced block in a V-block: left_face, right_face.
     */
    DIVIDING_SETTING_KIND_FACES_IN_VEE = 4,
    /**
     * A bar on two pins of a pin plate: circle, first_pin, second_pin, span,
     * bar.
     */
    DIVIDING_SETTING_KIND_BAR_ON_PINS = 5,
    /**
     * The crank pin of a worm head in a hole: plate, back, circle, turns, hole.
     */
    DIVIDING_SETTING_KIND_CRANK = 6,
    /**
     * A reading of a graduated dial: turns, graduation, table.
     */
    DIVIDING_SETTING_KIND_READING = 7,
    /**
     * A sine bar on gauge blocks: reversed, height_mm, block_unit, stack_count,
     * wear_block_mm; dividing_plans_step_blocks gives the blocks.
     */
    DIVIDING_SETTING_KIND_SINE_BAR = 8,
    /**
     * A stack of angle gauge blocks: plus_count, minus_count;
     * dividing_plans_step_angle_blocks gives the blocks.
     */
    DIVIDING_SETTING_KIND_ANGLE_STACK = 9,
    /**
     * The part at a reading of a level or protractor: table.
     */
    DIVIDING_SETTING_KIND_INCLINATION = 10,
    /**
     * The part's datum at a stop: stop.
     */
    DIVIDING_SETTING_KIND_AT_STOP = 11,
    /**
     * The last feature at the stop: turns counts the steps from the feature
     * that the chain began with.
     */
    DIVIDING_SETTING_KIND_FROM_LAST = 12,
    /**
     * A bar on pins of two rings of a pin plate: circle, first_pin,
     * second_circle, second_pin, bar.
     */
    DIVIDING_SETTING_KIND_BAR_ACROSS_RINGS = 13,
    /**
     * Every member of a stack at its own setting: member_count;
     * dividing_plans_step_member gives them.
     */
    DIVIDING_SETTING_KIND_STACK = 14,
    /**
     * Crank pin and plate of a worm head by compound indexing: plate, back,
     * turns, circle, hole, second_circle, second_hole.
     */
    DIVIDING_SETTING_KIND_COMPOUND_CRANK = 15,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_setting_kind dividing_setting_kind;
#else
typedef int32_t dividing_setting_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How the bar lies on the two pins of a pin plate.
 */
enum dividing_bar
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * There is no bar.
     */
    DIVIDING_BAR_NONE = 0,
    /**
     * Level, on top of the pins, the centre of the plate below it.
     */
    DIVIDING_BAR_LEVEL_ABOVE = 1,
    /**
     * Level, against the pins from below, the centre of the plate above it.
     */
    DIVIDING_BAR_LEVEL_BELOW = 2,
    /**
     * Upright, on the right of the pins, the centre of the plate to its left.
     */
    DIVIDING_BAR_UPRIGHT_RIGHT = 3,
    /**
     * Upright, on the left of the pins, the centre of the plate to its right.
     */
    DIVIDING_BAR_UPRIGHT_LEFT = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_bar dividing_bar;
#else
typedef int32_t dividing_bar;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Whether a plan holds the tolerance of its job.
 */
enum dividing_verdict
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The worst case lies within the tolerance, or the decision rule of the job
     * accepts every feature.
     */
    DIVIDING_VERDICT_PASS = 0,
    /**
     * The job gives no tolerance.
     */
    DIVIDING_VERDICT_NO_TOLERANCE = 1,
    /**
     * The settings lie within the tolerance, but the worst case does not, or
     * is not fully known; under a decision rule: neither accepted nor rejected.
     */
    DIVIDING_VERDICT_NOT_PROVEN = 2,
    /**
     * The settings alone are off by more than the tolerance; under a guard band:
     * by more than the tolerance and the band.
     */
    DIVIDING_VERDICT_FAIL = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_verdict dividing_verdict;
#else
typedef int32_t dividing_verdict;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The class of ISO 2768-1 for angles that a plan meets.
 */
enum dividing_class_met
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The job names no class, the plan meets none, or its figure is incomplete.
     */
    DIVIDING_CLASS_MET_NONE = 0,
    /**
     * f or m, the same for angles.
     */
    DIVIDING_CLASS_MET_FINE_OR_MEDIUM = 1,
    /**
     * c.
     */
    DIVIDING_CLASS_MET_COARSE = 2,
    /**
     * v.
     */
    DIVIDING_CLASS_MET_VERY_COARSE = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_class_met dividing_class_met;
#else
typedef int32_t dividing_class_met;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A method of indexing, for one piece of equipment.
 */
enum dividing_indexing_method
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * A method that this version has no name for.
     */
    DIVIDING_INDEXING_METHOD_OTHER = 0,
    /**
     * Simple indexing on a worm head.
     */
    DIVIDING_INDEXING_METHOD_SIMPLE = 1,
    /**
     * Compound indexing on a worm head.
     */
    DIVIDING_INDEXING_METHOD_COMPOUND = 2,
    /**
     * Differential indexing on a worm head with change gears.
     */
    DIVIDING_INDEXING_METHOD_DIFFERENTIAL = 3,
    /**
     * Whatever another piece of equipment holds by itself.
     */
    DIVIDING_INDEXING_METHOD_HELD = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_indexing_method dividing_indexing_method;
#else
typedef int32_t dividing_indexing_method;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The units in which gauge blocks are counted.
 */
enum dividing_block_unit
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * 0.0001 mm.
     */
    DIVIDING_BLOCK_UNIT_TENTH_MICROMETRE = 0,
    /**
     * 0.00001 in.
     */
    DIVIDING_BLOCK_UNIT_HUNDRED_THOUSANDTH_INCH = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_block_unit dividing_block_unit;
#else
typedef int32_t dividing_block_unit;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How a lower bound of holes was proved.
 */
enum dividing_proof
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Each different hole angle counted once.
     */
    DIVIDING_PROOF_EACH_HOLE_ONCE = 0,
    /**
     * Each wish's share of the holes it can have in common with others.
     */
    DIVIDING_PROOF_SHARED_HOLES = 1,
    /**
     * Prices of the linear relaxation over every ring that could take part.
     */
    DIVIDING_PROOF_LINEAR_RELAXATION = 2,
    /**
     * Every choice of rings with fewer holes was ruled out.
     */
    DIVIDING_PROOF_EXHAUSTED = 3,
    /**
     * n + m over every pair of whole numbers with M dividing n * m.
     */
    DIVIDING_PROOF_FACTOR_PAIRS = 4,
    /**
     * Each direction needs a chord or a position of its own, and placings of
     * fewer pins or holes were ruled out.
     */
    DIVIDING_PROOF_DIRECTIONS = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_proof dividing_proof;
#else
typedef int32_t dividing_proof;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What a decision rule comes to.
 */
enum dividing_decision
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The value conforms.
     */
    DIVIDING_DECISION_PASS = 0,
    /**
     * It does not.
     */
    DIVIDING_DECISION_FAIL = 1,
    /**
     * Neither is proven.
     */
    DIVIDING_DECISION_NOT_PROVEN = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_decision dividing_decision;
#else
typedef int32_t dividing_decision;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Sorts of allowance.
 */
enum dividing_allowance_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Up to a value.
     */
    DIVIDING_ALLOWANCE_KIND_UP_TO = 0,
    /**
     * As large as it likes: it does not turn the part.
     */
    DIVIDING_ALLOWANCE_KIND_UNLIMITED = 1,
    /**
     * Not even zero is enough: the other inputs alone break the limit.
     */
    DIVIDING_ALLOWANCE_KIND_NEVER = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_allowance_kind dividing_allowance_kind;
#else
typedef int32_t dividing_allowance_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What an inspection is of.
 */
enum dividing_inspected
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Of hole centres: circle, eccentricity, deviations.
     */
    DIVIDING_INSPECTED_COORDINATES = 0,
    /**
     * Of angles, deviations or chords: deviations.
     */
    DIVIDING_INSPECTED_RING = 1,
    /**
     * Of two devices compared: closure.
     */
    DIVIDING_INSPECTED_CLOSURE = 2,
    /**
     * Of the stations of a vernier indexer: deviations.
     */
    DIVIDING_INSPECTED_STATIONS = 3,
    /**
     * Of something that this version has no name for.
     */
    DIVIDING_INSPECTED_OTHER = 100,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_inspected dividing_inspected;
#else
typedef int32_t dividing_inspected;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What a check looked at.
 */
enum dividing_checked
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Something that this version has no name for.
     */
    DIVIDING_CHECKED_OTHER = 0,
    /**
     * The angle of a place, in radians.
     */
    DIVIDING_CHECKED_ANGLE = 1,
    /**
     * The single pitch from a place to the next, in radians.
     */
    DIVIDING_CHECKED_SINGLE_PITCH = 2,
    /**
     * The total cumulative pitch, in radians.
     */
    DIVIDING_CHECKED_CUMULATIVE_PITCH = 3,
    /**
     * The position of a place: the diameter of its zone, in millimetres.
     */
    DIVIDING_CHECKED_POSITION = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_checked dividing_checked;
#else
typedef int32_t dividing_checked;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Which deviations of hole centres.
 */
enum dividing_about
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * About the axis where one was given, else about the centre of the fitted
     * circle.
     */
    DIVIDING_ABOUT_AXIS_OR_CENTRE = 0,
    /**
     * About the centre of the fitted circle: eccentricity removed.
     */
    DIVIDING_ABOUT_CENTRE = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_about dividing_about;
#else
typedef int32_t dividing_about;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The classes of ISO 2768-1 for angles.
 */
enum dividing_angle_class
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * f or m, the same for angles.
     */
    DIVIDING_ANGLE_CLASS_FINE_OR_MEDIUM = 0,
    /**
     * c.
     */
    DIVIDING_ANGLE_CLASS_COARSE = 1,
    /**
     * v.
     */
    DIVIDING_ANGLE_CLASS_VERY_COARSE = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_angle_class dividing_angle_class;
#else
typedef int32_t dividing_angle_class;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * An axis of a machine.
 */
enum dividing_machine_axis
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * X.
     */
    DIVIDING_MACHINE_AXIS_PLUS_X = 0,
    /**
     * Y.
     */
    DIVIDING_MACHINE_AXIS_PLUS_Y = 1,
    /**
     * Against X.
     */
    DIVIDING_MACHINE_AXIS_MINUS_X = 2,
    /**
     * Against Y.
     */
    DIVIDING_MACHINE_AXIS_MINUS_Y = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_machine_axis dividing_machine_axis;
#else
typedef int32_t dividing_machine_axis;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What a part touches at a stop.
 */
enum dividing_contact
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * A pin in a drilled hole: hole_radius, registration.
     */
    DIVIDING_CONTACT_DRILLED_HOLE = 0,
    /**
     * A flat against a block: seat_error.
     */
    DIVIDING_CONTACT_FLAT = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_contact dividing_contact;
#else
typedef int32_t dividing_contact;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How an expanded uncertainty is stated.
 */
enum dividing_coverage
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * With the Student factor of a coverage probability, above 0 and below 1.
     */
    DIVIDING_COVERAGE_PROBABILITY = 0,
    /**
     * With a coverage factor, above 0.
     */
    DIVIDING_COVERAGE_FACTOR = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_coverage dividing_coverage;
#else
typedef int32_t dividing_coverage;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What must stay within a limit.
 */
enum dividing_criterion
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The sum of all limits.
     */
    DIVIDING_CRITERION_WORST_CASE = 0,
    /**
     * The root of the sum of the squares of all limits.
     */
    DIVIDING_CRITERION_ROOT_SUM_SQUARE = 1,
    /**
     * The combined standard uncertainty times a coverage factor.
     */
    DIVIDING_CRITERION_EXPANDED_UNCERTAINTY = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_criterion dividing_criterion;
#else
typedef int32_t dividing_criterion;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * One of two compared devices.
 */
enum dividing_device
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The first.
     */
    DIVIDING_DEVICE_FIRST = 0,
    /**
     * The second.
     */
    DIVIDING_DEVICE_SECOND = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_device dividing_device;
#else
typedef int32_t dividing_device;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How an input varies within its limit.
 */
enum dividing_distribution
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Every value within the limit either way alike.
     */
    DIVIDING_DISTRIBUTION_UNIFORM = 0,
    /**
     * Normal, with the limit at `sigmas_at_limit` standard deviations.
     */
    DIVIDING_DISTRIBUTION_NORMAL = 1,
    /**
     * Triangular, symmetric about zero, ending at the limit either way.
     */
    DIVIDING_DISTRIBUTION_TRIANGULAR = 2,
    /**
     * Arc sine: a sinusoid at a random phase.
     */
    DIVIDING_DISTRIBUTION_U_SHAPED = 3,
    /**
     * One coordinate of a point anywhere in a disc whose radius is the limit.
     */
    DIVIDING_DISTRIBUTION_UNIFORM_IN_DISC = 4,
    /**
     * One of the values given, each as likely as the others: `samples`.
     */
    DIVIDING_DISTRIBUTION_SAMPLES = 5,
    /**
     * A distribution that this version has no name for; only comes out.
     */
    DIVIDING_DISTRIBUTION_OTHER = 100,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_distribution dividing_distribution;
#else
typedef int32_t dividing_distribution;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Which feature is brought to the stop.
 */
enum dividing_from_feature
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The same datum for every feature.
     */
    DIVIDING_FROM_FEATURE_COMMON_DATUM = 0,
    /**
     * The feature made last: errors add up.
     */
    DIVIDING_FROM_FEATURE_LAST_FEATURE = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_from_feature dividing_from_feature;
#else
typedef int32_t dividing_from_feature;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Which idlers turn the plate which way.
 */
enum dividing_idlers
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The common handbook one: a simple train takes one idler to turn the plate
     * with the crank, a compound train none.
     */
    DIVIDING_IDLERS_COMMON_HANDBOOK = 0,
    /**
     * The other way about.
     */
    DIVIDING_IDLERS_REVERSED = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_idlers dividing_idlers;
#else
typedef int32_t dividing_idlers;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The unit of a contributor's limit.
 */
enum dividing_input_unit
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Millimetres, turned into an angle by a radius or a baseline.
     */
    DIVIDING_INPUT_UNIT_MILLIMETRE = 0,
    /**
     * Radians.
     */
    DIVIDING_INPUT_UNIT_RADIAN = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_input_unit dividing_input_unit;
#else
typedef int32_t dividing_input_unit;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The rule by which a limit of angle is judged (JCGM 106:2012).
 */
enum dividing_job_rule
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The worst case must hold.
     */
    DIVIDING_JOB_RULE_WORST_CASE = 0,
    /**
     * The deviation itself must lie within the limits.
     */
    DIVIDING_JOB_RULE_SIMPLE_ACCEPTANCE = 1,
    /**
     * It must lie within the limits less a guard band: guard_band.
     */
    DIVIDING_JOB_RULE_GUARD_BAND = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_job_rule dividing_job_rule;
#else
typedef int32_t dividing_job_rule;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * From where a cut is located.
 */
enum dividing_located_from
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * From the spindle or the plate on which the part sits.
     */
    DIVIDING_LOCATED_FROM_SPINDLE_OR_PLATE = 0,
    /**
     * From the part's own round, indicated or held anew at each feature.
     */
    DIVIDING_LOCATED_FROM_PARTS_OWN_ROUND = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_located_from dividing_located_from;
#else
typedef int32_t dividing_located_from;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How long a value stays.
 */
enum dividing_persistence
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The same every time this hole, face or graduation is used.
     */
    DIVIDING_PERSISTENCE_FIXED_FOR_PLACE = 0,
    /**
     * New at each seating of a pin, block, bar or crank.
     */
    DIVIDING_PERSISTENCE_NEW_AT_SEATING = 1,
    /**
     * The same for all features of the job.
     */
    DIVIDING_PERSISTENCE_FIXED_FOR_JOB = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_persistence dividing_persistence;
#else
typedef int32_t dividing_persistence;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How the pins of a pin plate sit in their holes.
 */
enum dividing_pin_hold
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * With clearance.
     */
    DIVIDING_PIN_HOLD_LOOSE = 0,
    /**
     * Pressed in or glued.
     */
    DIVIDING_PIN_HOLD_FIXED = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_pin_hold dividing_pin_hold;
#else
typedef int32_t dividing_pin_hold;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Where a pin lies in its hole.
 */
enum dividing_pin_seat
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Anywhere within the clearance.
     */
    DIVIDING_PIN_SEAT_FREE = 0,
    /**
     * Always pushed the same way.
     */
    DIVIDING_PIN_SEAT_BIASED = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_pin_seat dividing_pin_seat;
#else
typedef int32_t dividing_pin_seat;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Where the coordinates of a plate start.
 */
enum dividing_plate_datum
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The centre of the plate.
     */
    DIVIDING_PLATE_DATUM_CENTRE = 0,
    /**
     * The left and lower edges, so that all coordinates are positive.
     */
    DIVIDING_PLATE_DATUM_LEFT_AND_LOWER_EDGE = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_plate_datum dividing_plate_datum;
#else
typedef int32_t dividing_plate_datum;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * The quantities of a report.
 */
enum dividing_quantity
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Largest single pitch deviation of a trial, without sign.
     */
    DIVIDING_QUANTITY_SINGLE_PITCH = 0,
    /**
     * Cumulative pitch deviation of a trial.
     */
    DIVIDING_QUANTITY_CUMULATIVE_PITCH = 1,
    /**
     * Largest deviation of any feature of a trial, without sign.
     */
    DIVIDING_QUANTITY_LARGEST_DEVIATION = 2,
    /**
     * Deviation on coming back to the first feature.
     */
    DIVIDING_QUANTITY_CLOSING = 3,
    /**
     * Deviation of one feature about the datum, by its place round the part.
     */
    DIVIDING_QUANTITY_FEATURE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_quantity dividing_quantity;
#else
typedef int32_t dividing_quantity;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What the rows of comma-separated text are.
 */
enum dividing_readings
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Hole centres: place, x_mm, y_mm (or x_in, y_in) and, both or neither,
     * x_uncertainty_mm, y_uncertainty_mm.
     */
    DIVIDING_READINGS_COORDINATES = 0,
    /**
     * Angles: place, angle or angle_deg.
     */
    DIVIDING_READINGS_ANGLES = 1,
    /**
     * Deviations: place, deviation_arcsec.
     */
    DIVIDING_READINGS_DEVIATIONS = 2,
    /**
     * Chords: place, over_pins_mm or over_pins_in.
     */
    DIVIDING_READINGS_CHORDS = 3,
    /**
     * A closure calibration: shift, position, reading_arcsec.
     */
    DIVIDING_READINGS_CLOSURE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_readings dividing_readings;
#else
typedef int32_t dividing_readings;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What deviations are counted from when a start is chosen.
 */
enum dividing_reference
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * As they are given: the zero of the plate is kept.
     */
    DIVIDING_REFERENCE_GIVEN = 0,
    /**
     * Their mean.
     */
    DIVIDING_REFERENCE_MEAN = 1,
    /**
     * The shift that makes the worst least.
     */
    DIVIDING_REFERENCE_MIDDLE = 2,
    /**
     * The first feature of the pattern.
     */
    DIVIDING_REFERENCE_FIRST_FEATURE = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_reference dividing_reference;
#else
typedef int32_t dividing_reference;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Which way angles, numbers or a spindle grow, seen from the side of the cutter.
 */
enum dividing_sense
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Counter-clockwise.
     */
    DIVIDING_SENSE_COUNTER_CLOCKWISE = 0,
    /**
     * Clockwise.
     */
    DIVIDING_SENSE_CLOCKWISE = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_sense dividing_sense;
#else
typedef int32_t dividing_sense;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * Where a pattern may begin.
 */
enum dividing_start_rule
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Anywhere: the whole pattern may shift as one.
     */
    DIVIDING_START_RULE_FREE = 0,
    /**
     * The first feature stands exactly at a setting of the device.
     */
    DIVIDING_START_RULE_ON_A_SETTING = 1,
    /**
     * Clocked to a feature that the part already has: clocked_to, clocked_at,
     * reading, clocking_error.
     */
    DIVIDING_START_RULE_CLOCKED = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_start_rule dividing_start_rule;
#else
typedef int32_t dividing_start_rule;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * How an angle is written.
 */
enum dividing_style
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Exact: decimal degrees where they end, else a fraction of a turn.
     */
    DIVIDING_STYLE_EXACT = 0,
    /**
     * Decimal degrees, rounded half to even: 22.500°.
     */
    DIVIDING_STYLE_DECIMAL_DEGREES = 1,
    /**
     * Degrees, minutes and seconds, the seconds rounded half to even:
     * 22°30'00.0".
     */
    DIVIDING_STYLE_DEGREES_MINUTES_SECONDS = 2,
    /**
     * An exact fraction of a turn: 1/16 turn.
     */
    DIVIDING_STYLE_FRACTION_OF_TURN = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_style dividing_style;
#else
typedef int32_t dividing_style;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What limits how far off a feature may be.
 */
enum dividing_tolerance_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * Nothing: there is no verdict.
     */
    DIVIDING_TOLERANCE_KIND_NONE = 0,
    /**
     * An angle either way: angle.
     */
    DIVIDING_TOLERANCE_KIND_ANGLE = 1,
    /**
     * A position tolerance: zone_diameter_mm, radius_mm and, at maximum
     * material, the three sizes.
     */
    DIVIDING_TOLERANCE_KIND_POSITION_DIAMETER = 2,
    /**
     * Limits of pitch: single_pitch, cumulative_pitch or both.
     */
    DIVIDING_TOLERANCE_KIND_PITCH = 3,
    /**
     * A general-tolerance class of ISO 2768-1: angular_class, shorter_side_mm.
     */
    DIVIDING_TOLERANCE_KIND_ANGULAR_CLASS = 4,
    /**
     * The pitch of a grade of ISO 1328-1:2013: grade, reference_diameter_mm,
     * module_mm, pitch_rounding.
     */
    DIVIDING_TOLERANCE_KIND_PITCH_GRADE = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_tolerance_kind dividing_tolerance_kind;
#else
typedef int32_t dividing_tolerance_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * What a plate is used for.
 */
enum dividing_plate_use
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * A pin or plunger at one station enters the holes.
     */
    DIVIDING_PLATE_USE_PLUNGER = 0,
    /**
     * On a worm head: worm_ratio.
     */
    DIVIDING_PLATE_USE_WORM_HEAD = 1,
    /**
     * Pins stand in the holes and a bar is levelled on two: square,
     * part_diameter.
     */
    DIVIDING_PLATE_USE_PINS = 2,
    /**
     * Holes in the turning plate and stations in the fixed one.
     */
    DIVIDING_PLATE_USE_VERNIER_PAIR = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum dividing_plate_use dividing_plate_use;
#else
typedef int32_t dividing_plate_use;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/**
 * A set of gauge blocks: an opaque handle.
 *
 * Made by dividing_block_set_new or dividing_block_set_named, freed by
 * dividing_block_set_free. It never changes in between, so any number of
 * threads may read it at a time.
 */
typedef struct dividing_block_set dividing_block_set;

/**
 * An uncertainty budget: an opaque handle.
 *
 * Made by dividing_budget_new and its like, freed by dividing_budget_free. It
 * never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_budget dividing_budget;

/**
 * What a brief comes to, a plate or why none fits: an opaque handle.
 *
 * Made by dividing_design_new, freed by dividing_design_free. It never changes
 * in between, so any number of threads may read it at a time.
 */
typedef struct dividing_design dividing_design;

/**
 * One piece of equipment: an opaque handle.
 *
 * Made by a function dividing_equipment_..., freed by dividing_equipment_free.
 * It never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_equipment dividing_equipment;

/**
 * How each feature of a plan comes to be off: an opaque handle.
 *
 * Made by dividing_error_model_new, freed by dividing_error_model_free. It
 * never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_error_model dividing_error_model;

/**
 * Which divisions a workshop makes exactly: an opaque handle.
 *
 * Made by dividing_exact_table_new, freed by dividing_exact_table_free. It
 * never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_exact_table dividing_exact_table;

/**
 * The best settings for a range of divisions: an opaque handle.
 *
 * Made by dividing_indexing_table_new, freed by dividing_indexing_table_free.
 * It never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_indexing_table dividing_indexing_table;

/**
 * What an inspection found: an opaque handle.
 *
 * Made by dividing_inspection_new, freed by dividing_inspection_free. It never
 * changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_inspection dividing_inspection;

/**
 * What a drawing asks: an opaque handle.
 *
 * Made by dividing_job_equal_divisions and its like, freed by
 * dividing_job_free. It never changes in between, so any number of threads may
 * read it at a time.
 */
typedef struct dividing_job dividing_job;

/**
 * Readings of a plate or a part: an opaque handle.
 *
 * Made by dividing_measurement_points and its like, freed by
 * dividing_measurement_free. It never changes in between, so any number of
 * threads may read it at a time.
 */
typedef struct dividing_measurement dividing_measurement;

/**
 * An exact set of orientations: an opaque handle.
 *
 * Made by dividing_ways_orientations and its like, freed by
 * dividing_orientations_free. It never changes in between, so any number of
 * threads may read it at a time.
 */
typedef struct dividing_orientations dividing_orientations;

/**
 * A plate to drill: an opaque handle.
 *
 * Made by dividing_design_pattern or dividing_pattern_from_json, freed by
 * dividing_pattern_free. It never changes in between, so any number of threads
 * may read it at a time.
 */
typedef struct dividing_pattern dividing_pattern;

/**
 * All plans for a job, the best first: an opaque handle.
 *
 * Made by dividing_plans_new, freed by dividing_plans_free. It never changes
 * in between, so any number of threads may read one handle at a time.
 */
typedef struct dividing_plans dividing_plans;

/**
 * What is to be simulated: an opaque handle.
 *
 * Made by dividing_error_model_simulation or dividing_simulation_from_json,
 * freed by dividing_simulation_free. It never changes in between, so any number
 * of threads may run it at a time.
 */
typedef struct dividing_simulation dividing_simulation;

/**
 * What a simulation came to: an opaque handle.
 *
 * Made by dividing_simulation_run, freed by dividing_simulation_report_free. It
 * never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_simulation_report dividing_simulation_report;

/**
 * The nearest moves to be repeated for a range of divisions: an opaque handle.
 *
 * Made by dividing_stepping_table_new, freed by dividing_stepping_table_free.
 * It never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_stepping_table dividing_stepping_table;

/**
 * All trains of one ratio: an opaque handle.
 *
 * Made by dividing_trains_new, freed by dividing_trains_free. It never changes
 * in between, so any number of threads may read it at a time.
 */
typedef struct dividing_trains dividing_trains;

/**
 * Every way to use what a workshop owns: an opaque handle.
 *
 * Made by dividing_ways_new, freed by dividing_ways_free. It never changes in
 * between, so any number of threads may read it at a time.
 */
typedef struct dividing_ways dividing_ways;

/**
 * What a shop owns: an opaque handle.
 *
 * Made by dividing_workshop_new and its like, freed by dividing_workshop_free.
 * It never changes in between, so any number of threads may read it at a time.
 */
typedef struct dividing_workshop dividing_workshop;

/**
 * An exact fraction. As an angle it counts turns: 1/16 is 22.5 degrees.
 *
 * What the library writes is in lowest terms, the denominator at least 1, the
 * sign in the numerator. What it reads may have any denominator but 0.
 */
typedef struct dividing_fraction {
    /**
     * Numerator; carries the sign.
     */
    int64_t numerator;
    /**
     * Denominator.
     */
    int64_t denominator;
} dividing_fraction;

/**
 * A length that need not be given. All zeros stand for "not given".
 */
typedef struct dividing_optional_length {
    /**
     * 1 when `mm` counts, 0 when nothing is given.
     */
    int32_t given;
    /**
     * The length in millimetres.
     */
    double mm;
} dividing_optional_length;

/**
 * A circle of equally spaced holes. What was measured of them is added by
 * dividing_inspection_into_workshop, or stands in JSON.
 */
typedef struct dividing_hole_circle {
    /**
     * Equally spaced places, 2 to 100000; some may be absent.
     */
    uint32_t holes;
    /**
     * Radius of the pitch circle. Needed for an error figure.
     */
    struct dividing_optional_length pitch_radius;
    /**
     * Angle of hole 0 in turns; 0/0 stands for 0.
     */
    struct dividing_fraction first_hole;
    /**
     * Places that hold no usable hole, `absent_count` of them.
     */
    const uint32_t *absent;
    /**
     * How many `absent` points to.
     */
    size_t absent_count;
} dividing_hole_circle;

/**
 * A plate drilled on a dividing head, from a rougher plate on its crank, whose
 * errors come down by the worm ratio. Lengths in millimetres.
 */
typedef struct dividing_drilled_on_head {
    /**
     * Crank turns for one spindle turn of that head, as 40/1.
     */
    struct dividing_fraction worm_ratio;
    /**
     * Pitch radius of the circle used on the rougher plate, above 0.
     */
    double rougher_pitch_radius_mm;
    /**
     * Diameter of the zone in which each hole of the rougher plate lies.
     */
    double rougher_hole_position_tolerance_mm;
    /**
     * Clearance of the crank pin in the rougher plate's holes, at most.
     */
    double rougher_clearance_mm;
    /**
     * Deviation of the head's spindle by worm and wheel, either way, in turns;
     * 0/0 stands for 0.
     */
    struct dividing_fraction worm_error;
    /**
     * Diameter of the zone in which the drill wandered.
     */
    double drill_wander_mm;
} dividing_drilled_on_head;

/**
 * A plate drilled by coordinates. Lengths in millimetres.
 */
typedef struct dividing_drilled_by_coordinates {
    /**
     * Deviation of either axis of the table, either way.
     */
    double table_accuracy_mm;
    /**
     * Diameter of the zone in which the drill wandered.
     */
    double drill_wander_mm;
} dividing_drilled_by_coordinates;

/**
 * A pin in holes. Lengths in millimetres, 0 or more.
 */
typedef struct dividing_pin_in_hole {
    /**
     * Diameter of the pin.
     */
    double pin_diameter_mm;
    /**
     * Diameter of the holes; not smaller than the pin.
     */
    double hole_diameter_mm;
    /**
     * Diameter of the zone round its true place in which each hole's centre
     * lies; 0 where the plate says below how it was drilled.
     */
    double hole_position_tolerance_mm;
    /**
     * Deviation of a hole's diameter, either way.
     */
    double hole_diameter_tolerance_mm;
    /**
     * Deviation of a pin's diameter, either way.
     */
    double pin_diameter_tolerance_mm;
    /**
     * Where the pin lies: a dividing_pin_seat.
     */
    int32_t seating;
    /**
     * How the holes were drilled, in place of their position tolerance: on a
     * dividing head; NULL where not so, or not known.
     */
    const struct dividing_drilled_on_head *drilled_on_head;
    /**
     * The same by coordinates; NULL where not so, or not known.
     */
    const struct dividing_drilled_by_coordinates *drilled_by_coordinates;
} dividing_pin_in_hole;

/**
 * A plate on the spindle with a plunger. Texts end with NUL.
 */
typedef struct dividing_direct_plate {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Its hole circles, `circle_count` of them.
     */
    const struct dividing_hole_circle *circles;
    /**
     * How many `circles` points to.
     */
    size_t circle_count;
    /**
     * Where the plunger stands, in turns; 0/0 stands for 0.
     */
    struct dividing_fraction station;
    /**
     * How the holes are numbered: a dividing_sense.
     */
    int32_t sense;
    /**
     * Pin and holes; NULL where not known. Needed for an error figure.
     */
    const struct dividing_pin_in_hole *registration;
    /**
     * Distance of the plate's centre from the spindle axis, at most.
     */
    double eccentricity_mm;
    /**
     * Clearance of the plate's bore on its seat.
     */
    double bore_clearance_mm;
} dividing_direct_plate;

/**
 * A circle of holes with several stations for the pin. Texts end with NUL. What
 * was measured of the stations is added by dividing_inspection_into_workshop, or
 * stands in JSON.
 */
typedef struct dividing_vernier_indexer {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * The circle of holes that turns with the spindle.
     */
    struct dividing_hole_circle circle;
    /**
     * Angles of the holes in the body in turns, `station_count` of them.
     */
    const struct dividing_fraction *stations;
    /**
     * How many `stations` points to, 1 to 1000.
     */
    size_t station_count;
    /**
     * How the holes are numbered: a dividing_sense.
     */
    int32_t sense;
    /**
     * Pin and holes of the circle; NULL where not known.
     */
    const struct dividing_pin_in_hole *registration;
    /**
     * Diameter of the holes in the body, where it is not that of the circle's.
     */
    struct dividing_optional_length station_hole_diameter;
    /**
     * Diameter of the zone of each station's centre, where it is not that of
     * the circle's holes.
     */
    struct dividing_optional_length station_position_tolerance;
} dividing_vernier_indexer;

/**
 * A block with equal faces. Texts end with NUL. Angles are in turns.
 */
typedef struct dividing_faced_block {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Equal faces, 3 to 1000.
     */
    uint32_t faces;
    /**
     * Deviation of a face from its true direction, either way; 0/0 where not
     * known. Needed for an error figure.
     */
    struct dividing_fraction face_error;
    /**
     * Tilt of the block in its seat, either way; 0/0 stands for 0.
     */
    struct dividing_fraction seat_error;
} dividing_faced_block;

/**
 * A V-block to lay faced blocks in. Texts end with NUL. Angles are in turns.
 */
typedef struct dividing_vee_block {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Angle between its flanks.
     */
    struct dividing_fraction included_angle;
    /**
     * Deviation of a flank from its true direction, either way; 0/0 where not
     * known. Needed for an error figure.
     */
    struct dividing_fraction flank_error;
} dividing_vee_block;

/**
 * How closely a bar is levelled. Lengths in millimetres.
 */
typedef struct dividing_levelling {
    /**
     * Difference of the readings that is not seen.
     */
    double reading_mm;
    /**
     * Distance of the two readings along the bar.
     */
    double travel_mm;
} dividing_levelling;

/**
 * A plate with pins for a levelled bar. Texts end with NUL.
 */
typedef struct dividing_pin_plate {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Its rings of holes, `circle_count` of them.
     */
    const struct dividing_hole_circle *circles;
    /**
     * How many `circles` points to.
     */
    size_t circle_count;
    /**
     * How the holes are numbered: a dividing_sense.
     */
    int32_t sense;
    /**
     * 1 when the bar may also lie on the side that faces the centre, which
     * adds half a turn; else 0.
     */
    int32_t bar_turns_over;
    /**
     * 1 when the bar may also be set upright with a square, which adds a
     * quarter turn; else 0.
     */
    int32_t square;
    /**
     * 1 when the bar may also lie on pins of two rings; else 0.
     */
    int32_t across_rings;
    /**
     * Pins and holes; NULL where not known. Needed for an error figure.
     */
    const struct dividing_pin_in_hole *registration;
    /**
     * How the pins sit: a dividing_pin_hold.
     */
    int32_t pin_hold;
    /**
     * Deviation of the bar's edge from straight over its length, at most.
     */
    double bar_straightness_mm;
    /**
     * How closely the bar is levelled; NULL where not known. Needed for an
     * error figure.
     */
    const struct dividing_levelling *levelling;
    /**
     * Deviation of the square from 90 degrees, either way, in turns; 0/0
     * stands for 0.
     */
    struct dividing_fraction square_error;
} dividing_pin_plate;

/**
 * One circle of a worm head's plate.
 */
typedef struct dividing_plate_circle {
    /**
     * Equally spaced holes, 2 to 100000.
     */
    uint32_t holes;
    /**
     * Radius of the pitch circle; the head's `smallest_pitch_radius` stands in
     * where it is not given.
     */
    struct dividing_optional_length pitch_radius;
    /**
     * Places that hold no usable hole, `absent_count` of them; may be NULL.
     */
    const uint32_t *absent;
    /**
     * How many `absent` points to.
     */
    size_t absent_count;
} dividing_plate_circle;

/**
 * A plate of a worm head. Texts end with NUL.
 */
typedef struct dividing_index_plate {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * The circles of its front, `circle_count` of them.
     */
    const struct dividing_plate_circle *circles;
    /**
     * How many `circles` points to.
     */
    size_t circle_count;
    /**
     * The circles of its back, `back_circle_count` of them.
     */
    const struct dividing_plate_circle *back_circles;
    /**
     * How many `back_circles` points to; may be 0.
     */
    size_t back_circle_count;
} dividing_index_plate;

/**
 * Whether compound trains must clear their neighbours' shafts. All zeros stand
 * for ratios alone.
 */
typedef struct dividing_mesh {
    /**
     * 1 when trains must clear, 0 when ratios alone count.
     */
    int32_t must_clear;
    /**
     * By how much, in teeth.
     */
    uint16_t allowance_teeth;
} dividing_mesh;

/**
 * Change gears of a worm head, for differential indexing.
 */
typedef struct dividing_change_gears {
    /**
     * Teeth of the gears owned, 1 to 1000 each, a gear owned twice listed
     * twice; `gear_count` of them.
     */
    const uint32_t *gears;
    /**
     * How many `gears` points to, 2 to 200.
     */
    size_t gear_count;
    /**
     * Whether compound trains must clear their neighbours' shafts.
     */
    struct dividing_mesh mesh;
    /**
     * Most pairs of driver and driven, 1 to 3; 0 stands for 2.
     */
    uint8_t most_pairs;
    /**
     * Turns of the plate for one turn of the train's last gear; 0/0 stands
     * for 1.
     */
    struct dividing_fraction fixed_gearing;
    /**
     * Which idlers turn the plate which way: a dividing_idlers.
     */
    int32_t idlers;
    /**
     * Deviation of the plate from true by teeth and lost motion, either way,
     * in turns; 0/0 where not known.
     */
    struct dividing_fraction plate_error;
} dividing_change_gears;

/**
 * A worm head with a crank and plates. Texts end with NUL. Angles are in
 * turns, 0/0 where not known.
 */
typedef struct dividing_worm_head {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Crank turns for one spindle turn: 40/1, 81/2.
     */
    struct dividing_fraction worm_ratio;
    /**
     * The plates owned, `plate_count` of them.
     */
    const struct dividing_index_plate *plates;
    /**
     * How many `plates` points to.
     */
    size_t plate_count;
    /**
     * Crank pin and plate holes; NULL where not known.
     */
    const struct dividing_pin_in_hole *registration;
    /**
     * Pitch radius of the smallest circle, for circles whose own is not given.
     */
    struct dividing_optional_length smallest_pitch_radius;
    /**
     * Deviation of the spindle from true by worm and wheel, either way.
     */
    struct dividing_fraction worm_error;
    /**
     * Lost motion of the spindle when the crank changes its sense.
     */
    struct dividing_fraction backlash;
    /**
     * The way the part turns when the crank turns clockwise: a dividing_sense.
     */
    int32_t sense;
    /**
     * Gears for differential indexing; NULL where there are none.
     */
    const struct dividing_change_gears *change_gears;
} dividing_worm_head;

/**
 * A rotary table or head with a graduated dial. Texts end with NUL. Angles are
 * in turns, 0/0 where not known.
 *
 * What was measured of it is added by dividing_inspection_into_workshop, or
 * stands in JSON.
 */
typedef struct dividing_graduated_dial {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Handle turns for one turn of the table.
     */
    struct dividing_fraction worm_ratio;
    /**
     * Graduations on the dial for one handle turn, 1 to 100000.
     */
    uint32_t graduations;
    /**
     * Deviation of the table from true by worm and wheel, either way.
     */
    struct dividing_fraction table_error;
    /**
     * Lost motion of the table when the handle changes its sense.
     */
    struct dividing_fraction backlash;
    /**
     * How the readings grow: a dividing_sense.
     */
    int32_t sense;
} dividing_graduated_dial;

/**
 * A sine bar, plate or table with gauge blocks. Texts end with NUL. Angles are
 * in turns.
 */
typedef struct dividing_sine_bar {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Distance of the roller centres, up to 1000 mm.
     */
    double length_mm;
    /**
     * A common set of gauge blocks by its name: "metric_112", "metric_103",
     * "metric_87", "metric_47", "metric_32", "inch_81", "inch_36"; NULL where
     * the sizes follow.
     */
    const char *block_set;
    /**
     * Sizes of the blocks owned in units, `block_count` of them, where
     * `block_set` is NULL.
     */
    const uint32_t *block_units;
    /**
     * How many `block_units` points to, at most 300.
     */
    size_t block_count;
    /**
     * The unit of `block_units`: a dividing_block_unit.
     */
    int32_t block_unit;
    /**
     * Most blocks of one stack, 1 to 16; 0 stands for 5.
     */
    uint32_t most_blocks;
    /**
     * Thickness of the wear block at each end of a stack, if they are used.
     */
    struct dividing_optional_length wear_block;
    /**
     * 1 when two equal stacks stand under its roller; else 0.
     */
    int32_t two_stacks;
    /**
     * 1 when it may also be used turned end for end; else 0.
     */
    int32_t turns_end_for_end;
    /**
     * Steepest tilt that is used, below a quarter turn; 0/0 stands for 1/6.
     */
    struct dividing_fraction largest_angle;
    /**
     * Deviation of one block from its size, either way. Needed for an error
     * figure.
     */
    struct dividing_optional_length block_error;
    /**
     * Deviation of the distance of the roller centres, either way. Needed for
     * an error figure.
     */
    struct dividing_optional_length length_error;
    /**
     * How far the working face is out of line with the rollers, either way;
     * 0/0 stands for 0.
     */
    struct dividing_fraction face_error;
} dividing_sine_bar;

/**
 * Angle gauge blocks. Texts end with NUL. Angles are in turns.
 */
typedef struct dividing_angle_blocks {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * A common set by its name: "pieces13", "pieces16"; NULL where the sizes
     * follow.
     */
    const char *block_set;
    /**
     * Angles of the blocks owned in seconds of arc, `block_count` of them,
     * where `block_set` is NULL.
     */
    const uint32_t *blocks_arcsec;
    /**
     * How many `blocks_arcsec` points to.
     */
    size_t block_count;
    /**
     * Deviation of one block, either way; 0/0 where not known. Needed for an
     * error figure.
     */
    struct dividing_fraction block_error;
} dividing_angle_blocks;

/**
 * A level, clinometer or protractor. Texts end with NUL. Angles are in turns.
 */
typedef struct dividing_protractor {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Smallest step of its reading, a whole part of a turn.
     */
    struct dividing_fraction resolution;
    /**
     * Deviation of a reading, either way; 0/0 where not known. Needed for an
     * error figure.
     */
    struct dividing_fraction instrument_error;
} dividing_protractor;

/**
 * A hole or flat that the part already has, against a stop. Texts end with
 * NUL. Angles are in turns.
 */
typedef struct dividing_part_reference {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * What the part touches: a dividing_contact.
     */
    int32_t contact;
    /**
     * Radius at which the drilled hole stands. Needed for an error figure.
     */
    struct dividing_optional_length hole_radius;
    /**
     * Pin and drilled hole; NULL where not known. Needed for an error figure.
     */
    const struct dividing_pin_in_hole *registration;
    /**
     * How far the flat may lie from true, either way; 0/0 where not known.
     * Needed for an error figure.
     */
    struct dividing_fraction seat_error;
    /**
     * Which feature is brought to the stop: a dividing_from_feature.
     */
    int32_t from;
    /**
     * How far on the cutter works, one angle for each stop, `angle_count` of
     * them.
     */
    const struct dividing_fraction *angles;
    /**
     * How many `angles` points to, 1 to 1000; 1 from the last feature.
     */
    size_t angle_count;
    /**
     * Error of the device that set the stops, either way; 0/0 where not known.
     * Needed for an error figure.
     */
    struct dividing_fraction angle_error;
} dividing_part_reference;

/**
 * One device held on another. Texts end with NUL.
 */
typedef struct dividing_stack {
    /**
     * What the shop calls it.
     */
    const char *name;
    /**
     * Names of its members in the workshop, from the machine to the part,
     * `member_count` of them.
     */
    const char *const *members;
    /**
     * How many `members` points to, 2 to 4.
     */
    size_t member_count;
} dividing_stack;

/**
 * A piece of a workshop at a glance.
 */
typedef struct dividing_piece {
    /**
     * What the shop calls it. Both texts belong to the workshop's handle.
     */
    const char *name;
    /**
     * Its kind, as in documents: "worm_head".
     */
    const char *kind;
} dividing_piece;

/**
 * N equal divisions. Texts end with NUL. Angles are in turns.
 */
typedef struct dividing_equal_divisions {
    /**
     * How many, 2 to 100000.
     */
    uint32_t count;
    /**
     * What one of them is called on the sheet; NULL stands for "feature".
     */
    const char *called;
    /**
     * Drawing angle of the first; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
} dividing_equal_divisions;

/**
 * Start, tolerance and units of a job. All zeros, or NULL for the whole, stand
 * for a free start, no tolerance, millimetres and decimal degrees. Texts end
 * with NUL; angles are in turns.
 */
typedef struct dividing_job_terms {
    /**
     * Where the pattern may begin: a dividing_start_rule.
     */
    int32_t start;
    /**
     * The existing feature of a clocked start, in the words of the drawing.
     */
    const char *clocked_to;
    /**
     * Its drawing angle; 0/0 stands for 0.
     */
    struct dividing_fraction clocked_at;
    /**
     * Where the device stands when that feature stands where the cutter will
     * work; 0/0 stands for 0.
     */
    struct dividing_fraction reading;
    /**
     * How closely it is clocked, either way; 0/0 stands for 0.
     */
    struct dividing_fraction clocking_error;
    /**
     * What limits a feature: a dividing_tolerance_kind.
     */
    int32_t tolerance;
    /**
     * Largest deviation either way.
     */
    struct dividing_fraction angle;
    /**
     * Diameter of the position zone.
     */
    double zone_diameter_mm;
    /**
     * Radius of the circle that the features stand on.
     */
    double radius_mm;
    /**
     * 1 when the zone holds at maximum material and grows from there; else 0.
     */
    int32_t at_maximum_material;
    /**
     * Size of the feature at maximum material.
     */
    double maximum_material_size_mm;
    /**
     * Size of the feature at least material.
     */
    double least_material_size_mm;
    /**
     * Its actual size.
     */
    double actual_size_mm;
    /**
     * Largest deviation of the angle between neighbours; 0/0 for no limit.
     */
    struct dividing_fraction single_pitch;
    /**
     * Largest less smallest deviation; 0/0 for no limit.
     */
    struct dividing_fraction cumulative_pitch;
    /**
     * The class: a dividing_angle_class.
     */
    int32_t angular_class;
    /**
     * The shorter side of the angle.
     */
    double shorter_side_mm;
    /**
     * The grade, 1 to 11.
     */
    uint8_t grade;
    /**
     * Reference diameter of the wheel.
     */
    double reference_diameter_mm;
    /**
     * Its module.
     */
    double module_mm;
    /**
     * 1 for unrounded limits, 0 for those rounded by the standard's rule.
     */
    int32_t pitch_rounding;
    /**
     * The rule by which a limit of angle is judged: a dividing_job_rule.
     */
    int32_t decision_rule;
    /**
     * Of a guard band, its width over the expanded uncertainty, 0 or more; 1
     * by ISO 14253-1.
     */
    double guard_band;
    /**
     * Distance of the part's axis from that of the spindle, or of the plate
     * fixed to the part, at most; 0 where it is not given.
     */
    double part_eccentricity_mm;
    /**
     * From where the cut is located: a dividing_located_from.
     */
    int32_t located_from;
    /**
     * Radius of the features from the part's axis; not given for straight cuts.
     */
    struct dividing_optional_length feature_radius;
    /**
     * 1 for inches on the sheet, 0 for millimetres.
     */
    int32_t inches;
    /**
     * 1 for degrees, minutes and seconds on the sheet, 0 for decimal degrees.
     */
    int32_t degrees_minutes_seconds;
} dividing_job_terms;

/**
 * Holes on a circle. Lengths are in millimetres, angles in turns.
 */
typedef struct dividing_bolt_circle {
    /**
     * How many holes, 2 to 100000.
     */
    uint32_t count;
    /**
     * Radius of the pitch circle.
     */
    double pitch_radius_mm;
    /**
     * Diameter of the holes; only written on the sheet.
     */
    struct dividing_optional_length hole_diameter;
    /**
     * Drawing angle of the first hole, from the X axis; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
    /**
     * The way round in which the holes are made: a dividing_sense.
     */
    int32_t direction;
    /**
     * 1 when the four fields below say how the drawing lies in the machine's
     * axes; 0 when the centre is their zero and angles count from X towards Y.
     */
    int32_t axes;
    /**
     * X of the centre.
     */
    double centre_x_mm;
    /**
     * Y of the centre.
     */
    double centre_y_mm;
    /**
     * The axis along which drawing angle 0 lies: a dividing_machine_axis.
     */
    int32_t angle_zero;
    /**
     * The way in which drawing angles grow, X to the right and Y upward: a
     * dividing_sense.
     */
    int32_t angles_grow;
    /**
     * Further chords to check by, each over so many hole spaces,
     * `chord_check_count` of them.
     */
    const uint32_t *chord_checks;
    /**
     * How many `chord_checks` points to; may be 0.
     */
    size_t chord_check_count;
} dividing_bolt_circle;

/**
 * Flats on round stock. Lengths are in millimetres, angles in turns.
 */
typedef struct dividing_flats {
    /**
     * How many flats.
     */
    uint32_t count;
    /**
     * Across flats: twice the distance of a flat from the axis.
     */
    double across_flats_mm;
    /**
     * Diameter of the stock.
     */
    double stock_diameter_mm;
    /**
     * Drawing angle of the first; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
} dividing_flats;

/**
 * Slots with parallel sides. Lengths are in millimetres, angles in turns.
 */
typedef struct dividing_slots {
    /**
     * How many slots.
     */
    uint32_t count;
    /**
     * Width of a slot.
     */
    double width_mm;
    /**
     * Depth from the outside.
     */
    double depth_mm;
    /**
     * Outside diameter of the part.
     */
    double outside_diameter_mm;
    /**
     * Drawing angle of the first; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
} dividing_slots;

/**
 * Teeth of a spur wheel.
 */
typedef struct dividing_teeth {
    /**
     * How many teeth, 2 to 100000.
     */
    uint32_t count;
    /**
     * 1 when `size` is a diametral pitch in teeth an inch, 0 when it is a
     * module in millimetres.
     */
    int32_t diametral_pitch;
    /**
     * Module or diametral pitch.
     */
    double size;
    /**
     * Drawing angle of the first tooth space in turns; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
} dividing_teeth;

/**
 * Lines of a scale.
 */
typedef struct dividing_graduations {
    /**
     * How many lines, 2 to 100000.
     */
    uint32_t count;
    /**
     * Every how many lines a major one stands, a divisor of the count; 0
     * stands for 10.
     */
    uint32_t major_every;
    /**
     * Every how many lines a middle one stands, a divisor of `major_every`; 0
     * where there is none.
     */
    uint32_t middle_every;
    /**
     * Length of a major line; only written on the sheet.
     */
    struct dividing_optional_length major_length;
    /**
     * Length of a middle line.
     */
    struct dividing_optional_length middle_length;
    /**
     * Length of a minor line.
     */
    struct dividing_optional_length minor_length;
    /**
     * Drawing angle of the first line in turns; 0/0 stands for 0.
     */
    struct dividing_fraction first_angle;
} dividing_graduations;

/**
 * Features at listed angles. Texts end with NUL.
 */
typedef struct dividing_angle_list {
    /**
     * Drawing angles in turns, in the order of making, `count` of them.
     */
    const struct dividing_fraction *angles;
    /**
     * How many `angles` points to, 1 to 100000.
     */
    size_t count;
    /**
     * What one of them is called on the sheet; NULL stands for "feature".
     */
    const char *called;
} dividing_angle_list;

/**
 * Measures of flats, in millimetres.
 */
typedef struct dividing_flats_measures {
    /**
     * Depth of cut for each flat.
     */
    double depth_mm;
    /**
     * What lies opposite a flat.
     */
    dividing_opposite opposite;
    /**
     * From a flat to what lies opposite.
     */
    double over_opposite_mm;
    /**
     * Width of one finished flat.
     */
    double flat_width_mm;
    /**
     * Largest diameter over the finished corners.
     */
    double across_corners_mm;
    /**
     * Stock diameter from which on the corners come out sharp; NaN for two
     * flats, which have no corners.
     */
    double stock_for_sharp_corners_mm;
} dividing_flats_measures;

/**
 * Measures of slots, in millimetres.
 */
typedef struct dividing_slots_measures {
    /**
     * Width of the land between two slots at the outside, as a chord.
     */
    double land_mm;
    /**
     * Material between two slots at their bottom; 0 or less where they run
     * into one another.
     */
    double web_at_bottom_mm;
    /**
     * From the bottom of a slot to that of the slot opposite; NaN for an odd
     * count.
     */
    double over_bottoms_mm;
} dividing_slots_measures;

/**
 * Measures of a spur wheel, in millimetres.
 */
typedef struct dividing_teeth_measures {
    /**
     * The module.
     */
    double module_mm;
    /**
     * Pitch diameter.
     */
    double pitch_diameter_mm;
    /**
     * Outside diameter.
     */
    double outside_diameter_mm;
    /**
     * Depth of a space with a clearance of a quarter module.
     */
    double whole_depth_mm;
} dividing_teeth_measures;

/**
 * Asked from time to time during a long search: `spent` steps of work are
 * done. It returns 0 to go on and any other number to stop. It may call
 * functions of this library, and must return: no exception, no longjmp.
 */
typedef int32_t (*dividing_watcher)(uint64_t spent,
                                    void *userdata);

/**
 * One way at a glance.
 */
typedef struct dividing_way {
    /**
     * The piece of equipment, by its place in the workshop.
     */
    size_t equipment;
    /**
     * Cosets of the set that it holds: equally spaced orientations each, by
     * dividing_ways_cosets.
     */
    size_t coset_count;
    /**
     * Orientations of the set, counted coset by coset.
     */
    uint64_t orientation_count;
    /**
     * How many equally spaced orientations it would hold were no hole absent.
     */
    uint64_t full_order;
    /**
     * What the device presents at its zero setting, in turns.
     */
    struct dividing_fraction zero;
    /**
     * Whether fine points are added to the set: tilts of a sine bar, stacks of
     * angle gauge blocks, bars across rings.
     */
    bool has_fine_points;
} dividing_way;

/**
 * One setting. Fields that its kind does not fill are 0.
 */
typedef struct dividing_setting {
    /**
     * Which sort of setting it is.
     */
    dividing_setting_kind kind;
    /**
     * Holes on the circle or ring.
     */
    uint32_t circle;
    /**
     * The hole, numbered from 0; for a crank the holes beyond whole turns.
     */
    uint32_t hole;
    /**
     * The station, numbered from 0 as listed in the workshop.
     */
    uint32_t station;
    /**
     * The face, numbered from 0.
     */
    uint32_t face;
    /**
     * The face on the left flank, seen from the side of the cutter.
     */
    uint32_t left_face;
    /**
     * The face on the right flank.
     */
    uint32_t right_face;
    /**
     * The hole of the first pin, numbered from 0.
     */
    uint32_t first_pin;
    /**
     * The hole of the second pin, numbered from 0.
     */
    uint32_t second_pin;
    /**
     * Hole spaces between the two pins, the short way round.
     */
    uint32_t span;
    /**
     * How the bar lies.
     */
    dividing_bar bar;
    /**
     * The plate of a worm head, numbered from 0 as listed in the workshop.
     */
    uint32_t plate;
    /**
     * 1 when the plate shows its back, else 0.
     */
    uint32_t back;
    /**
     * Graduations beyond whole handle turns.
     */
    uint32_t graduation;
    /**
     * Whole turns of the crank or handle from zero.
     */
    int64_t turns;
    /**
     * The reading as an angle of the table, in turns; 0/1 where there is none.
     */
    struct dividing_fraction table;
    /**
     * Holes on the second circle or ring.
     */
    uint32_t second_circle;
    /**
     * The hole of the pin on the second circle, counted from 0.
     */
    uint32_t second_hole;
    /**
     * 1 when a sine bar stands turned end for end, else 0.
     */
    uint32_t reversed;
    /**
     * The unit of its blocks: a dividing_block_unit.
     */
    int32_t block_unit;
    /**
     * Stacks under the bar: 0 when it lies level, 2 under a wide one.
     */
    uint32_t stack_count;
    /**
     * Angle blocks that add their angle.
     */
    uint32_t plus_count;
    /**
     * Angle blocks that take it away.
     */
    uint32_t minus_count;
    /**
     * The stop, numbered from 0 as listed in the workshop.
     */
    uint32_t stop;
    /**
     * Members of a stack.
     */
    uint32_t member_count;
    /**
     * Height of the high roller above the low one, in millimetres.
     */
    double height_mm;
    /**
     * Thickness of the wear block at each end of a stack, in millimetres; 0
     * where none is used.
     */
    double wear_block_mm;
    /**
     * Room for sorts of settings yet to come; 0.
     */
    int64_t reserved[4];
} dividing_setting;

/**
 * What one way can do for a job.
 */
typedef struct dividing_reach {
    /**
     * Whether every feature is exact.
     */
    bool exact;
    /**
     * What the device presents when drawing angle 0 stands at the cutter, in
     * turns.
     */
    struct dividing_fraction start;
    /**
     * The largest residual, without sign, in turns: the least that the way
     * allows.
     */
    struct dividing_fraction largest_residual;
} dividing_reach;

/**
 * Whether a pin enters its hole.
 */
typedef struct dividing_entry_finding {
    /**
     * Largest distance of the two centres along the radius, in millimetres.
     */
    double worst_distance_mm;
    /**
     * Play left at worst; below 0 what is lacking.
     */
    double worst_margin_mm;
    /**
     * Whether it enters at the limits of all tolerances.
     */
    bool always_enters;
    /**
     * Probability that it enters.
     */
    double probability;
} dividing_entry_finding;

/**
 * How far off a feature, or the worst feature of a plan, may be; the residual
 * is included.
 */
typedef struct dividing_error_figure {
    /**
     * All limits added, in radians.
     */
    double worst_rad;
    /**
     * The same in degrees.
     */
    double worst_deg;
    /**
     * The residual and the root of the sum of the squared limits, in radians.
     */
    double root_sum_square_rad;
    /**
     * The same in degrees.
     */
    double root_sum_square_deg;
} dividing_error_figure;

/**
 * One plan at a glance.
 */
typedef struct dividing_plan {
    /**
     * The piece of equipment, as the workshop calls it. The three texts belong
     * to the handle and are valid until it is freed.
     */
    const char *equipment;
    /**
     * Its kind, as in workshop documents: "worm_head".
     */
    const char *equipment_kind;
    /**
     * How it is used, in words.
     */
    const char *method;
    /**
     * Steps, one for each feature of the job.
     */
    size_t step_count;
    /**
     * Whether the worst case holds the tolerance.
     */
    dividing_verdict verdict;
    /**
     * Whether every feature is exact.
     */
    bool exact;
    /**
     * Whether the error figures hold everything; false when the workshop
     * leaves out what they would need.
     */
    bool figure_is_complete;
    /**
     * How far off the worst feature may be.
     */
    struct dividing_error_figure error;
    /**
     * Largest deviation that the tolerance allows, in radians; 0 without a
     * tolerance.
     */
    double limit_rad;
    /**
     * The same in degrees.
     */
    double limit_deg;
    /**
     * The limit less the worst case, in radians; below 0 when it is passed, 0
     * without a tolerance. Under a decision rule the acceptance limit less the
     * known deviation.
     */
    double margin_rad;
    /**
     * The same in degrees.
     */
    double margin_deg;
    /**
     * The probability that a feature conforms, 0 to 1, of the feature for which
     * it is least; NaN without a limit of angle or with an incomplete figure.
     */
    double probability;
    /**
     * How far a feature may stand off its place, in millimetres, because the
     * part stands off the spindle; NaN where the job does not say how far.
     */
    double feature_shift_mm;
    /**
     * How far that may turn a feature about the part's axis, in radians: 0 for
     * flats and other straight cuts; NaN as above.
     */
    double feature_shift_rad;
    /**
     * The tightest class of ISO 2768-1 that the worst case meets, where the job
     * names one.
     */
    dividing_class_met class_met;
    /**
     * The finest grade of ISO 1328-1, 1 to 11, that the worst case of the pitch
     * alone meets, where the job names one; 0 where it meets none or the figure
     * is incomplete.
     */
    uint32_t grade_met;
    /**
     * Room for what is yet to come; 0.
     */
    uint64_t reserved[4];
} dividing_plan;

/**
 * What a table covers. Entry i of its columns is for `first + i` divisions.
 */
typedef struct dividing_table_range {
    /**
     * The first number of divisions.
     */
    uint32_t first;
    /**
     * The last.
     */
    uint32_t last;
    /**
     * Entries of each column.
     */
    size_t row_count;
    /**
     * Sections: by equipment, in the order of the workshop, and method.
     */
    size_t section_count;
    /**
     * Whether all was looked at. Where not, what is marked exact is, and the
     * rest may not be settled.
     */
    bool complete;
} dividing_table_range;

/**
 * One section of a table.
 */
typedef struct dividing_table_section {
    /**
     * The piece of equipment, by its place in the workshop.
     */
    size_t equipment;
    /**
     * The method.
     */
    dividing_indexing_method method;
    /**
     * 1 where exact, else 0: one byte for each row of the table. The column
     * belongs to the table's handle.
     */
    const uint8_t *exact;
} dividing_table_section;

/**
 * Simple indexing: columns of the table's handle, one entry a row.
 */
typedef struct dividing_simple_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * 1 where exact, else 0.
     */
    const uint8_t *exact;
    /**
     * The plate, as listed.
     */
    const uint32_t *plate;
    /**
     * 1 where the plate shows its back, else 0.
     */
    const uint8_t *back;
    /**
     * Holes on the circle: where not exact, the one that comes nearest.
     */
    const uint32_t *circle;
    /**
     * Whole crank turns of a move, rounded to the nearest hole where not exact.
     */
    const uint32_t *turns;
    /**
     * Holes beyond them.
     */
    const uint32_t *holes;
    /**
     * The largest residual in turns, settings counted from zero and the start
     * free; 0 where exact.
     */
    const double *residual_turns;
    /**
     * How far off the turn closes, in turns, when the rounded move is repeated
     * instead; 0 where exact.
     */
    const double *closing_turns;
} dividing_simple_columns;

/**
 * Compound indexing: columns of the table's handle, one entry a row; 0 where it
 * is not exact.
 */
typedef struct dividing_compound_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * 1 where exact, else 0.
     */
    const uint8_t *exact;
    /**
     * The plate, as listed.
     */
    const uint32_t *plate;
    /**
     * 1 where the plate shows its back, else 0.
     */
    const uint8_t *back;
    /**
     * Whole crank turns, backward where below zero.
     */
    const int32_t *whole_turns;
    /**
     * Holes on the circle of the crank pin.
     */
    const uint32_t *first_circle;
    /**
     * Holes of the crank, backward where below zero.
     */
    const int32_t *first_holes;
    /**
     * Holes on the circle of the plate's pin.
     */
    const uint32_t *second_circle;
    /**
     * Holes of plate and crank, backward where below zero.
     */
    const int32_t *second_holes;
} dividing_compound_columns;

/**
 * Differential indexing: columns of the table's handle, one entry a row; 0
 * where it is not exact.
 */
typedef struct dividing_differential_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * 1 where exact, else 0.
     */
    const uint8_t *exact;
    /**
     * The plate, as listed.
     */
    const uint32_t *plate;
    /**
     * 1 where the plate shows its back, else 0.
     */
    const uint8_t *back;
    /**
     * Holes on the circle.
     */
    const uint32_t *circle;
    /**
     * Whole crank turns of a move, counted on the plate.
     */
    const int64_t *turns;
    /**
     * Holes beyond them.
     */
    const uint32_t *holes;
    /**
     * 1 where the plate turns against the crank, else 0.
     */
    const uint8_t *against;
    /**
     * Idlers, by the convention of the head.
     */
    const uint8_t *idlers;
    /**
     * Teeth of the drivers, from the spindle: three columns, 0 where there is
     * none.
     */
    const uint16_t *drivers[3];
    /**
     * Teeth of the driven gears, to the shaft of the plate.
     */
    const uint16_t *driven[3];
} dividing_differential_columns;

/**
 * What one piece of other equipment holds: columns of the table's handle, one
 * entry a row.
 */
typedef struct dividing_held_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * 1 where exact, else 0.
     */
    const uint8_t *exact;
    /**
     * The way that is exact or comes nearest, counted from 0 among the ways of
     * the piece.
     */
    const uint32_t *way;
    /**
     * The largest residual in turns with the start free, 0 where exact.
     */
    const double *residual_turns;
} dividing_held_columns;

/**
 * Arrays of the caller for simple indexing, each with room for `capacity`
 * entries; a column whose pointer is NULL is left out. What they hold is said
 * at dividing_simple_columns.
 */
typedef struct dividing_simple_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * 1 where exact, else 0.
     */
    uint8_t *exact;
    /**
     * The plate.
     */
    uint32_t *plate;
    /**
     * 1 where the plate shows its back.
     */
    uint8_t *back;
    /**
     * Holes on the circle.
     */
    uint32_t *circle;
    /**
     * Whole crank turns.
     */
    uint32_t *turns;
    /**
     * Holes beyond them.
     */
    uint32_t *holes;
    /**
     * The largest residual, in turns.
     */
    double *residual_turns;
    /**
     * The closing error, in turns.
     */
    double *closing_turns;
} dividing_simple_places;

/**
 * Arrays of the caller for compound indexing, each with room for `capacity`
 * entries; a column whose pointer is NULL is left out. What they hold is said
 * at dividing_compound_columns.
 */
typedef struct dividing_compound_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * 1 where exact, else 0.
     */
    uint8_t *exact;
    /**
     * The plate.
     */
    uint32_t *plate;
    /**
     * 1 where the plate shows its back.
     */
    uint8_t *back;
    /**
     * Whole crank turns.
     */
    int32_t *whole_turns;
    /**
     * Holes on the circle of the crank pin.
     */
    uint32_t *first_circle;
    /**
     * Holes of the crank.
     */
    int32_t *first_holes;
    /**
     * Holes on the circle of the plate's pin.
     */
    uint32_t *second_circle;
    /**
     * Holes of plate and crank.
     */
    int32_t *second_holes;
} dividing_compound_places;

/**
 * Arrays of the caller for differential indexing, each with room for
 * `capacity` entries; a column whose pointer is NULL is left out. What they
 * hold is said at dividing_differential_columns.
 */
typedef struct dividing_differential_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * 1 where exact, else 0.
     */
    uint8_t *exact;
    /**
     * The plate.
     */
    uint32_t *plate;
    /**
     * 1 where the plate shows its back.
     */
    uint8_t *back;
    /**
     * Holes on the circle.
     */
    uint32_t *circle;
    /**
     * Whole crank turns.
     */
    int64_t *turns;
    /**
     * Holes beyond them.
     */
    uint32_t *holes;
    /**
     * 1 where the plate turns against the crank.
     */
    uint8_t *against;
    /**
     * Idlers.
     */
    uint8_t *idlers;
    /**
     * Teeth of the drivers.
     */
    uint16_t *drivers[3];
    /**
     * Teeth of the driven gears.
     */
    uint16_t *driven[3];
} dividing_differential_places;

/**
 * Arrays of the caller for other equipment, each with room for `capacity`
 * entries; a column whose pointer is NULL is left out. What they hold is said
 * at dividing_held_columns.
 */
typedef struct dividing_held_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * 1 where exact, else 0.
     */
    uint8_t *exact;
    /**
     * The way.
     */
    uint32_t *way;
    /**
     * The largest residual, in turns.
     */
    double *residual_turns;
} dividing_held_places;

/**
 * What repeating a move round the turn does: columns of the table's handle, one
 * entry a row.
 */
typedef struct dividing_stepping_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * Made less wanted for one division, in turns; 0 where exact.
     */
    const double *per_division_turns;
    /**
     * The largest error over the turn, without sign, in turns; 0 where exact.
     */
    const double *worst_turns;
    /**
     * How far off the turn closes, in turns; 0 where exact.
     */
    const double *closing_turns;
} dividing_stepping_columns;

/**
 * Simple moves of several divisions at a time, which visit every place in another
 * order: columns of the table's handle, one entry a row.
 */
typedef struct dividing_several_divisions_columns {
    /**
     * Entries of each column.
     */
    size_t length;
    /**
     * Divisions a move, prime to the number of divisions; 1 where nothing is
     * nearer than single divisions.
     */
    const uint32_t *divisions;
    /**
     * The plate, as listed.
     */
    const uint32_t *plate;
    /**
     * 1 where the plate shows its back, else 0.
     */
    const uint8_t *back;
    /**
     * Holes on the circle; 0 where no circle has a move.
     */
    const uint32_t *circle;
    /**
     * Whole crank turns of a move.
     */
    const uint32_t *turns;
    /**
     * Holes beyond them.
     */
    const uint32_t *holes;
    /**
     * Made less wanted for one move, in turns.
     */
    const double *per_move_turns;
    /**
     * The largest error over all moves, without sign, in turns.
     */
    const double *worst_turns;
    /**
     * How far off the last of all moves closes, in turns.
     */
    const double *closing_turns;
} dividing_several_divisions_columns;

/**
 * Arrays of the caller for what repeating a move does, each with room for
 * `capacity` entries; a column whose pointer is NULL is left out.
 */
typedef struct dividing_stepping_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * Made less wanted for one division, in turns; 0 where exact.
     */
    double *per_division_turns;
    /**
     * The largest error over the turn, without sign, in turns; 0 where exact.
     */
    double *worst_turns;
    /**
     * How far off the turn closes, in turns; 0 where exact.
     */
    double *closing_turns;
} dividing_stepping_places;

/**
 * Arrays of the caller for moves of several divisions, each with room for
 * `capacity` entries; a column whose pointer is NULL is left out.
 */
typedef struct dividing_several_divisions_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * Divisions a move, prime to the number of divisions; 1 where nothing is
     * nearer than single divisions.
     */
    uint32_t *divisions;
    /**
     * The plate, as listed.
     */
    uint32_t *plate;
    /**
     * 1 where the plate shows its back, else 0.
     */
    uint8_t *back;
    /**
     * Holes on the circle; 0 where no circle has a move.
     */
    uint32_t *circle;
    /**
     * Whole crank turns of a move.
     */
    uint32_t *turns;
    /**
     * Holes beyond them.
     */
    uint32_t *holes;
    /**
     * Made less wanted for one move, in turns.
     */
    double *per_move_turns;
    /**
     * The largest error over all moves, without sign, in turns.
     */
    double *worst_turns;
    /**
     * How far off the last of all moves closes, in turns.
     */
    double *closing_turns;
} dividing_several_divisions_places;

/**
 * The gears owned, and how trains may be made of them. Gears owned twice are
 * listed twice.
 */
typedef struct dividing_gears {
    /**
     * Teeth of each gear, 1 to 1000, `gear_count` of them.
     */
    const uint32_t *gears;
    /**
     * How many `gears` points to, 2 to 200.
     */
    size_t gear_count;
    /**
     * Most pairs of a train, 1 to 3; 0 stands for 2.
     */
    uint32_t most_pairs;
    /**
     * Whether trains must clear.
     */
    struct dividing_mesh mesh;
} dividing_gears;

/**
 * How a search for trains ended.
 */
typedef struct dividing_trains_result {
    /**
     * Trains found; those that differ only in the order of drivers or of
     * driven gears are one.
     */
    size_t count;
    /**
     * Ordered rows that they stand for.
     */
    uint64_t rows;
    /**
     * Whether these are all; false when the limit of work was reached.
     */
    bool complete;
} dividing_trains_result;

/**
 * A train of one to three pairs. The ratio is the product of the drivers over
 * the product of the driven; idlers are not part of it.
 */
typedef struct dividing_train {
    /**
     * Pairs of driver and driven; 0 where there is no train.
     */
    uint32_t pairs;
    /**
     * Teeth of the drivers; 0 beyond the pairs.
     */
    uint16_t drivers[3];
    /**
     * Teeth of the driven gears, each meshing with the driver of its place.
     */
    uint16_t driven[3];
} dividing_train;

/**
 * The train nearest to a ratio, and why nothing is nearer.
 */
typedef struct dividing_nearest_train {
    /**
     * A nearest train, in the order that meshes best.
     */
    struct dividing_train train;
    /**
     * The train just as far on the other side, if there is one.
     */
    struct dividing_train equally_near;
    /**
     * The train with the greatest ratio not above the target, if there is one.
     */
    struct dividing_train below;
    /**
     * The train with the smallest ratio not below the target, if there is one.
     */
    struct dividing_train above;
    /**
     * How far the train is from the target, in millionths of the target;
     * positive when its ratio is greater.
     */
    double error_ppm;
    /**
     * Whether the train has the ratio exactly.
     */
    bool exact;
    /**
     * Whether all trains were covered, so that this is proved nearest.
     */
    bool complete;
} dividing_nearest_train;

/**
 * A helix to be milled: work geared to the table screw. Leads and pitch are in
 * millimetres, exact.
 */
typedef struct dividing_helix {
    /**
     * Turns of the worm shaft for one turn of the spindle: 40/1.
     */
    struct dividing_fraction worm_ratio;
    /**
     * Travel of the table for one turn of its screw: 5/1; 127/20 for a quarter
     * of an inch.
     */
    struct dividing_fraction screw_pitch_mm;
    /**
     * Lead wanted.
     */
    struct dividing_fraction lead_mm;
    /**
     * 1 for a left hand, 0 for a right hand.
     */
    int32_t left_hand;
    /**
     * Diameter at which the cutter is to lie along the helix, usually the
     * pitch diameter.
     */
    double diameter_mm;
} dividing_helix;

/**
 * The gears for a lead.
 */
typedef struct dividing_lead {
    /**
     * The train: the first driver on the table screw, the last driven on the
     * worm shaft.
     */
    struct dividing_train train;
    /**
     * Lead of the machine in millimetres.
     */
    struct dividing_fraction machine_lead_mm;
    /**
     * The lead that this train gives, exact, in millimetres.
     */
    struct dividing_fraction attained_lead_mm;
    /**
     * Attained less wanted lead, in millionths of the lead wanted.
     */
    double error_ppm;
    /**
     * Swivel of the table from square, in degrees, for the lead attained.
     */
    double swivel_deg;
    /**
     * Whether the lead is exact.
     */
    bool exact;
    /**
     * Whether all trains were covered.
     */
    bool complete;
    /**
     * 1 when the table swivels clockwise, seen from above, else 0.
     */
    uint8_t swivel_clockwise;
    /**
     * 1 when the work must turn clockwise, seen along the travel of the table,
     * else 0.
     */
    uint8_t work_clockwise;
} dividing_lead;

/**
 * How a plan by differential indexing is geared.
 */
typedef struct dividing_differential_move {
    /**
     * The gears: the first driver on the spindle, the last driven on the shaft
     * that turns the plate.
     */
    struct dividing_train train;
    /**
     * Equal parts of a turn.
     */
    int64_t divisions;
    /**
     * How many of them one move makes.
     */
    int64_t divisions_a_move;
    /**
     * Hole spaces of one move, whole crank turns counted.
     */
    int64_t spaces;
    /**
     * 1 when the plate turns against the crank, 0 when with it.
     */
    uint8_t against;
} dividing_differential_move;

/**
 * One move of a plan by compound indexing, repeated for every division.
 */
typedef struct dividing_compound_move {
    /**
     * Equal parts of a turn.
     */
    int64_t divisions;
    /**
     * How many of them one move makes.
     */
    int64_t divisions_a_move;
    /**
     * Whole crank turns of one move, backward where below zero.
     */
    int64_t whole_turns;
    /**
     * Holes of the crank on its circle, backward where below zero.
     */
    int64_t first_holes;
    /**
     * Holes of plate and crank together on the second circle, backward where
     * below zero.
     */
    int64_t second_holes;
} dividing_compound_move;

/**
 * A stack of gauge blocks, sizes in the unit of its set.
 */
typedef struct dividing_stacked_blocks {
    /**
     * The unit of all sizes.
     */
    dividing_block_unit unit;
    /**
     * Blocks of the stack.
     */
    uint32_t count;
    /**
     * Their sizes, ascending; 0 beyond them. Wear blocks are not counted.
     */
    uint32_t blocks[16];
    /**
     * Blocks of the lower stack, where the height is a difference of two.
     */
    uint32_t lower_count;
    /**
     * Their sizes, ascending; 0 beyond them.
     */
    uint32_t lower_blocks[16];
    /**
     * Thickness of each of the two wear blocks; 0 where there are none.
     */
    uint32_t wear_block_units;
    /**
     * Height less the height wanted, in units.
     */
    int64_t deviation_units;
    /**
     * The height, or the difference of heights, in millimetres.
     */
    double height_mm;
} dividing_stacked_blocks;

/**
 * A stack of angle gauge blocks.
 */
typedef struct dividing_stacked_angle_blocks {
    /**
     * The angle of the stack, in turns.
     */
    struct dividing_fraction attained;
    /**
     * Attained less wanted, in turns.
     */
    struct dividing_fraction residual;
    /**
     * Blocks that add their angle.
     */
    uint32_t plus_count;
    /**
     * Blocks that take it away.
     */
    uint32_t minus_count;
} dividing_stacked_angle_blocks;

/**
 * The limits of a size of a tolerance class.
 */
typedef struct dividing_size_limits {
    /**
     * Lower limit deviation, in micrometres.
     */
    double lower_um;
    /**
     * Upper limit deviation, in micrometres.
     */
    double upper_um;
    /**
     * Least size, in millimetres.
     */
    double least_mm;
    /**
     * Greatest size, in millimetres.
     */
    double greatest_mm;
} dividing_size_limits;

/**
 * A fit of a pin in a hole, in millimetres.
 */
typedef struct dividing_fit {
    /**
     * Least size of the hole.
     */
    double least_hole_mm;
    /**
     * Greatest size of the hole.
     */
    double greatest_hole_mm;
    /**
     * Least size of the pin.
     */
    double least_pin_mm;
    /**
     * Greatest size of the pin.
     */
    double greatest_pin_mm;
    /**
     * Smallest hole less largest pin; below 0 for an interference.
     */
    double least_clearance_mm;
    /**
     * Middle of least and greatest clearance.
     */
    double mean_clearance_mm;
    /**
     * Largest hole less smallest pin.
     */
    double greatest_clearance_mm;
} dividing_fit;

/**
 * What a plate must serve and what it is made of: the usual fields of a brief.
 * Briefs with more (angles, lists, keep-outs, fixed rings, tolerances) come as
 * JSON. Lengths are in millimetres.
 */
typedef struct dividing_plate_brief {
    /**
     * Divisions wanted, 2 to 100000 each, `division_count` of them.
     */
    const uint64_t *divisions;
    /**
     * How many `divisions` points to, at most 256.
     */
    size_t division_count;
    /**
     * What the plate is used for: a dividing_plate_use.
     */
    int32_t plate_use;
    /**
     * Crank turns for one spindle turn: 40/1.
     */
    struct dividing_fraction worm_ratio;
    /**
     * 1 when the bar is also set upright with a square; else 0.
     */
    int32_t square;
    /**
     * Diameter of a part that lies between the pins.
     */
    struct dividing_optional_length part_diameter;
    /**
     * Faces of a polygon, 3 to 100; 0 for a disc.
     */
    uint32_t faces;
    /**
     * Diameter of the disc, or across flats.
     */
    double outline_mm;
    /**
     * Diameter of the bore.
     */
    struct dividing_optional_length bore;
    /**
     * Diameter of the holes.
     */
    double hole_diameter_mm;
    /**
     * Diameter of the pin or plunger; not given: no error is foretold.
     */
    struct dividing_optional_length pin_diameter;
    /**
     * Least material between two holes.
     */
    double least_web_mm;
    /**
     * Least material between a hole and the outline, and the bore.
     */
    double least_edge_distance_mm;
    /**
     * Diameter of the tolerance zone of each hole's centre.
     */
    struct dividing_optional_length hole_position_tolerance;
} dividing_plate_brief;

/**
 * Why no plate fits, and what would.
 */
typedef struct dividing_plate_shortfall {
    /**
     * Smallest outline, diameter or across flats, that fits, in millimetres;
     * NaN when none does.
     */
    double smallest_outline_mm;
    /**
     * Largest hole diameter that fits, in millimetres; NaN when none does.
     */
    double largest_hole_mm;
    /**
     * The largest pin with it, in millimetres; NaN when no hole fits or the
     * brief has no pin.
     */
    double largest_pin_mm;
    /**
     * Wishes of the largest part of the brief that fits.
     */
    size_t subset_count;
    /**
     * Whether no larger part fits, or only none was found.
     */
    bool subset_proved;
} dividing_plate_shortfall;

/**
 * The proof that comes with a pattern.
 */
typedef struct dividing_certificate {
    /**
     * Holes of the pattern, stations included.
     */
    uint64_t holes;
    /**
     * No pattern under the same rules has fewer.
     */
    uint64_t lower_bound;
    /**
     * `holes` less `lower_bound`; 0 when proved.
     */
    uint64_t gap;
    /**
     * How the bound was proved.
     */
    dividing_proof proof;
    /**
     * Whether fewest holes, and the best worst margin among those, are proved.
     */
    bool complete;
    /**
     * Whether the proof is about plates whose rings stand a hole and a web
     * apart.
     */
    bool separated_rings;
    /**
     * Sets of holes to share out, those inside others taken out.
     */
    uint32_t wishes_shared_out;
    /**
     * Ways to share them out, rounded.
     */
    double partitions;
    /**
     * Rings that could take part in an answer as good as the first found.
     */
    uint64_t rings_considered;
    /**
     * Nodes of the search over those rings.
     */
    uint64_t nodes;
} dividing_certificate;

/**
 * What the last check of every pair of holes found. Lengths are in
 * millimetres, NaN where there is nothing to measure.
 */
typedef struct dividing_hole_check {
    /**
     * Least web between two holes.
     */
    double least_web_mm;
    /**
     * Least material to the outline.
     */
    double least_edge_mm;
    /**
     * Least material to the bore.
     */
    double least_bore_edge_mm;
    /**
     * Least material to a mounting hole.
     */
    double least_mounting_web_mm;
    /**
     * Least distance of a hole's edge to a keep-out.
     */
    double least_keep_out_mm;
    /**
     * Pairs of holes at the same place.
     */
    uint64_t duplicates;
    /**
     * Pairs of holes measured.
     */
    uint64_t pairs;
    /**
     * Whether every limit of the brief holds.
     */
    bool passed;
} dividing_hole_check;

/**
 * One ring of holes.
 */
typedef struct dividing_ring {
    /**
     * Pitch radius in millimetres.
     */
    double radius_mm;
    /**
     * Angle of the zero hole, in turns.
     */
    struct dividing_fraction phase;
    /**
     * Equally spaced places of which the holes are some; 0 where the number is
     * beyond 64 bits.
     */
    uint64_t places;
    /**
     * Holes of the ring.
     */
    size_t hole_count;
} dividing_ring;

/**
 * Arrays of the caller for holes, each with room for `capacity` entries; a
 * column whose pointer is NULL is left out.
 */
typedef struct dividing_hole_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * The ring, counted from 0 from the outside.
     */
    uint32_t *ring;
    /**
     * The hole's number on its ring.
     */
    uint32_t *number;
    /**
     * Numerator of its exact angle in turns.
     */
    int64_t *angle_numerator;
    /**
     * Denominator of its exact angle.
     */
    int64_t *angle_denominator;
    /**
     * X of its centre from the plate's centre, in millimetres.
     */
    double *x_mm;
    /**
     * Y of its centre.
     */
    double *y_mm;
} dividing_hole_places;

/**
 * How a table of holes is written.
 */
typedef struct dividing_hole_table {
    /**
     * Digits after the decimal point, 0 to 9: the machine's resolution.
     */
    uint8_t digits;
    /**
     * 1 for inches, 0 for millimetres.
     */
    int32_t inches;
    /**
     * Where coordinates start: a dividing_plate_datum.
     */
    int32_t datum;
} dividing_hole_table;

/**
 * What a drill program needs to know. Lengths are in millimetres.
 */
typedef struct dividing_drilling {
    /**
     * Digits, unit and datum of the coordinates.
     */
    struct dividing_hole_table table;
    /**
     * 1 for plain moves (G00, G01), 0 for the drilling cycle (G81).
     */
    int32_t moves;
    /**
     * Height above the face for travel and retract, above 0.
     */
    double clearance_height_mm;
    /**
     * Depth below the face, above 0.
     */
    double depth_mm;
    /**
     * Feed in millimetres a minute, above 0.
     */
    double feed_mm_per_minute;
    /**
     * Spindle speed in turns a minute, 1 to 100000.
     */
    uint32_t spindle_rpm;
} dividing_drilling;

/**
 * One feature of an error model.
 */
typedef struct dividing_modelled_feature {
    /**
     * The drawing angle, in turns.
     */
    struct dividing_fraction required;
    /**
     * Systematic deviation of the setting, in radians.
     */
    double residual_rad;
    /**
     * Contributors to the deviation.
     */
    size_t contributor_count;
} dividing_modelled_feature;

/**
 * One contributor of error.
 */
typedef struct dividing_contributor {
    /**
     * What causes it, in the words of the trade; ends with NUL. From a handle
     * it belongs to the handle.
     */
    const char *name;
    /**
     * Largest deviation of the input either way, in `unit`; not negative.
     */
    double limit;
    /**
     * The unit of the input: a dividing_input_unit.
     */
    int32_t unit;
    /**
     * Radians of the feature's angle for one unit of the input.
     */
    double sensitivity;
    /**
     * How the input varies: a dividing_distribution.
     */
    int32_t distribution;
    /**
     * Of a normal distribution, the limit over the standard deviation, above 0.
     */
    double sigmas_at_limit;
    /**
     * How long a value stays: a dividing_persistence.
     */
    int32_t persistence;
    /**
     * Degrees of freedom of its standard uncertainty; 0 stands for infinite.
     */
    double degrees_of_freedom;
    /**
     * Deviations of a distribution of samples, `sample_count` of them, in any
     * unit: the largest one, without sign, stands for the limit; else NULL.
     * From a handle they belong to the handle.
     */
    const double *samples;
    /**
     * How many `samples` points to.
     */
    size_t sample_count;
} dividing_contributor;

/**
 * Whether a feature conforms to the tolerance of its job.
 */
typedef struct dividing_conformance {
    /**
     * The decision under the rule.
     */
    dividing_decision decision;
    /**
     * Largest deviation that the drawing allows, in radians.
     */
    double limit_rad;
    /**
     * Expanded uncertainty of the deviation, in radians.
     */
    double expanded_uncertainty_rad;
    /**
     * Probability that the feature conforms, its deviation taken as normal
     * about the residual.
     */
    double probability;
} dividing_conformance;

/**
 * What the inverse question says of a plan's worst feature.
 */
typedef struct dividing_trade_off {
    /**
     * The worst feature, counted from 0.
     */
    size_t feature;
    /**
     * What the criterion gives for it now, residual included, in radians.
     */
    double present_rad;
    /**
     * The limit of the job, in radians.
     */
    double limit_rad;
    /**
     * Inputs of the table.
     */
    size_t input_count;
    /**
     * The pitch radius or baseline as it is, in millimetres; NaN where the
     * equipment registers on neither.
     */
    double present_lever_mm;
    /**
     * The least pitch radius or baseline that holds the limit; NaN where none
     * does.
     */
    double least_lever_mm;
} dividing_trade_off;

/**
 * How large an input may be.
 */
typedef struct dividing_allowance {
    /**
     * Which sort it is.
     */
    dividing_allowance_kind kind;
    /**
     * The value of an allowance up to one, in the unit of the input; 0 for the
     * others.
     */
    double up_to;
    /**
     * The present limit of the input, in its unit; the largest where several
     * bear the name.
     */
    double present;
} dividing_allowance;

/**
 * How a report of error is asked for: what must stay within the limit of the
 * job, and how the expanded uncertainty is stated. All zeros stand for the
 * worst case; the coverage must be given.
 */
typedef struct dividing_error_report_terms {
    /**
     * What must stay within the limit: a dividing_criterion.
     */
    int32_t criterion;
    /**
     * The coverage factor of a criterion of expanded uncertainty.
     */
    double coverage_factor;
    /**
     * How the budget states its expanded uncertainty: a dividing_coverage.
     */
    int32_t coverage;
    /**
     * Its probability or factor.
     */
    double coverage_value;
} dividing_error_report_terms;

/**
 * The result of a budget.
 */
typedef struct dividing_budget_figures {
    /**
     * What the result is. Both texts belong to the handle.
     */
    const char *quantity;
    /**
     * Unit of the result and of all figures below.
     */
    const char *unit;
    /**
     * Value of the result.
     */
    double estimate;
    /**
     * Combined standard uncertainty.
     */
    double combined_standard_uncertainty;
    /**
     * Effective degrees of freedom; infinite where they are, or where
     * correlations forbid the formula.
     */
    double effective_degrees_of_freedom;
    /**
     * Coverage probability; NaN where a factor was asked for.
     */
    double coverage_probability;
    /**
     * Coverage factor.
     */
    double coverage_factor;
    /**
     * Expanded uncertainty.
     */
    double expanded_uncertainty;
    /**
     * Standard uncertainty from second-order terms together.
     */
    double second_order_uncertainty;
    /**
     * Lines of the budget.
     */
    size_t line_count;
} dividing_budget_figures;

/**
 * One line of a budget.
 */
typedef struct dividing_budget_entry {
    /**
     * Name of the input. Both texts belong to the handle.
     */
    const char *name;
    /**
     * Unit of the input.
     */
    const char *unit;
    /**
     * Standard uncertainty of the input, in its unit.
     */
    double standard_uncertainty;
    /**
     * Degrees of freedom; infinite where they are.
     */
    double degrees_of_freedom;
    /**
     * Units of the result for one unit of the input.
     */
    double sensitivity;
    /**
     * Size of sensitivity times uncertainty, in the unit of the result.
     */
    double contribution;
    /**
     * Share of the variance of the result.
     */
    double share;
} dividing_budget_entry;

/**
 * How a simulation runs. All zeros, or NULL for the whole, stand for a million
 * trials, seed 1, one thread, 95 % coverage and confidence, and the quantiles
 * 0.5, 0.95 and 0.99.
 */
typedef struct dividing_run {
    /**
     * Trials; with `significant_digits` the most of them. 0 stands for a
     * million.
     */
    uint64_t trials;
    /**
     * 0 for so many trials; 1 to 4 for as many as it takes until the figures
     * are stable in so many digits.
     */
    uint8_t significant_digits;
    /**
     * 1 when `seed` counts, even if it is 0; 0 stands for seed 1.
     */
    int32_t seeded;
    /**
     * Seed of the random numbers: the same seed gives the same report.
     */
    uint64_t seed;
    /**
     * Threads to use, 1 to 256; the report does not depend on it. 0 stands
     * for 1.
     */
    size_t threads;
    /**
     * Probability of the coverage intervals; 0 stands for 0.95.
     */
    double coverage_probability;
    /**
     * Confidence of the intervals about probabilities; 0 stands for 0.95.
     */
    double confidence;
    /**
     * Probabilities of the quantiles to report, `quantile_count` of them.
     */
    const double *quantiles;
    /**
     * How many `quantiles` points to; 0 stands for 0.5, 0.95 and 0.99.
     */
    size_t quantile_count;
} dividing_run;

/**
 * A part of the trials, with its confidence interval; all NaN where it was not
 * asked for.
 */
typedef struct dividing_probability {
    /**
     * Part of the trials that conform.
     */
    double probability;
    /**
     * Lower end of its confidence interval.
     */
    double lower;
    /**
     * Upper end of its confidence interval.
     */
    double upper;
} dividing_probability;

/**
 * A report at a glance.
 */
typedef struct dividing_simulation_summary {
    /**
     * Trials made.
     */
    uint64_t trials;
    /**
     * 1 when the stated digits became stable, 0 when not, -1 where a fixed
     * number of trials was asked for.
     */
    int32_t stable;
    /**
     * Features that were worked out one by one; 0 where pitch alone was.
     */
    size_t feature_count;
    /**
     * Every feature within its limit of deviation.
     */
    struct dividing_probability deviation;
    /**
     * Single pitch within its limit.
     */
    struct dividing_probability single_pitch;
    /**
     * Cumulative pitch within its limit.
     */
    struct dividing_probability cumulative_pitch;
    /**
     * All given limits at once.
     */
    struct dividing_probability all;
} dividing_simulation_summary;

/**
 * One quantity over all trials, in radians.
 */
typedef struct dividing_quantity_figures {
    /**
     * Mean.
     */
    double mean_rad;
    /**
     * Standard error of the mean.
     */
    double mean_standard_error_rad;
    /**
     * Standard deviation.
     */
    double standard_deviation_rad;
    /**
     * Least value seen.
     */
    double least_rad;
    /**
     * Greatest value seen.
     */
    double greatest_rad;
    /**
     * Lower end of the coverage interval that leaves as much out on either
     * side.
     */
    double symmetric_low_rad;
    /**
     * Upper end of it.
     */
    double symmetric_high_rad;
    /**
     * Lower end of the shortest coverage interval.
     */
    double shortest_low_rad;
    /**
     * Upper end of it.
     */
    double shortest_high_rad;
    /**
     * Largest error of quantiles and intervals from counting in bins.
     */
    double quantile_resolution_rad;
    /**
     * Quantiles: as many as were asked for.
     */
    size_t quantile_count;
} dividing_quantity_figures;

/**
 * Arrays of the caller for the deviations of features, each with room for
 * `capacity` numbers in radians; a column whose pointer is NULL is left out.
 */
typedef struct dividing_feature_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * Means.
     */
    double *mean_rad;
    /**
     * Standard deviations.
     */
    double *standard_deviation_rad;
    /**
     * Lower ends of the symmetric coverage intervals.
     */
    double *low_rad;
    /**
     * Upper ends of the symmetric coverage intervals.
     */
    double *high_rad;
} dividing_feature_places;

/**
 * Two pins of one ring, and how well a level bar stands on them.
 */
typedef struct dividing_pin_pair {
    /**
     * The ring, counted from 0 as listed.
     */
    size_t circle;
    /**
     * Holes on the ring.
     */
    uint32_t holes;
    /**
     * Hole spaces between the pins.
     */
    uint32_t span;
    /**
     * Distance of the pins, in millimetres.
     */
    double baseline_mm;
    /**
     * What the criterion gives, in radians.
     */
    double total_rad;
} dividing_pin_pair;

/**
 * The range of independent normal values, in their standard deviations.
 */
typedef struct dividing_range {
    /**
     * Mean range: the constant d2 of control charts.
     */
    double mean;
    /**
     * Standard deviation of the range: the constant d3.
     */
    double standard_deviation;
} dividing_range;

/**
 * A column of numbers: one for all rows, or one for each.
 */
typedef struct dividing_column {
    /**
     * The numbers, `length` of them.
     */
    const double *values;
    /**
     * 1 or the number of rows.
     */
    size_t length;
} dividing_column;

/**
 * Columns for plungers, in millimetres; every column has one number or one for
 * each row.
 */
typedef struct dividing_plungers {
    /**
     * Pitch radius of the holes, above 0.
     */
    struct dividing_column pitch_radius_mm;
    /**
     * Largest tangential deviation of a hole: half a position zone's diameter.
     */
    struct dividing_column hole_deviation_mm;
    /**
     * Largest tangential deviation of the station.
     */
    struct dividing_column station_deviation_mm;
    /**
     * Hole less pin.
     */
    struct dividing_column clearance_mm;
    /**
     * Bore less plunger, in series with the pin.
     */
    struct dividing_column bore_clearance_mm;
    /**
     * Eccentricity of the plate to the spindle axis.
     */
    struct dividing_column eccentricity_mm;
} dividing_plungers;

/**
 * Columns for bars on pins, in millimetres; every column has one number or one
 * for each row.
 */
typedef struct dividing_bars {
    /**
     * Distance of the two holes, above 0.
     */
    struct dividing_column baseline_mm;
    /**
     * Largest deviation of one hole along the bar's normal: half a position
     * zone's diameter.
     */
    struct dividing_column hole_deviation_mm;
    /**
     * Largest difference of the two pins' diameters.
     */
    struct dividing_column pin_difference_mm;
    /**
     * Largest difference of the two holes' diameters.
     */
    struct dividing_column hole_difference_mm;
    /**
     * Straightness of the bar over the baseline.
     */
    struct dividing_column straightness_mm;
    /**
     * Reading of the levelling over the baseline.
     */
    struct dividing_column levelling_mm;
} dividing_bars;

/**
 * An angle by the linear model and by the exact geometry, in radians.
 */
typedef struct dividing_modelled_angle {
    /**
     * By the linear model.
     */
    double linear_rad;
    /**
     * By the exact geometry.
     */
    double exact_rad;
    /**
     * The one to use.
     */
    double angle_rad;
    /**
     * Whether the linear model is near enough, so that it is the one to use.
     */
    bool linear_holds;
} dividing_modelled_angle;

/**
 * A hole with its pin under a bar, in millimetres.
 */
typedef struct dividing_bar_support {
    /**
     * Centre of the hole along X.
     */
    double hole_x_mm;
    /**
     * Centre of the hole along Y.
     */
    double hole_y_mm;
    /**
     * Diameter of the hole.
     */
    double hole_diameter_mm;
    /**
     * Diameter of the pin.
     */
    double pin_diameter_mm;
} dividing_bar_support;

/**
 * What decides whether a pin enters its hole, in millimetres.
 */
typedef struct dividing_entry {
    /**
     * Pitch radius of the pin less that of the hole.
     */
    double radius_difference_mm;
    /**
     * Deviation of the pin's radius either way.
     */
    double pin_radius_tolerance_mm;
    /**
     * Deviation of the hole's radius either way.
     */
    double hole_radius_tolerance_mm;
    /**
     * Eccentricity of the plate, at most.
     */
    double eccentricity_mm;
    /**
     * Least clearance, hole less pin.
     */
    double least_clearance_mm;
    /**
     * Greatest clearance.
     */
    double greatest_clearance_mm;
} dividing_entry;

/**
 * A fitted circle. Lengths are in millimetres; NaN where there is nothing to
 * estimate a figure from.
 */
typedef struct dividing_circle {
    /**
     * Centre along X.
     */
    double x_mm;
    /**
     * Centre along Y.
     */
    double y_mm;
    /**
     * Radius.
     */
    double radius_mm;
    /**
     * Points less the three unknowns.
     */
    size_t degrees_of_freedom;
    /**
     * Covariance of X, Y and radius in square millimetres, row by row.
     */
    double covariance_mm2[9];
    /**
     * Sum of the squared residuals over their stated variances.
     */
    double chi_square;
    /**
     * Standard deviation of the residuals over the degrees of freedom.
     */
    double standard_deviation_mm;
} dividing_circle;

/**
 * What is said of a ring of readings besides the readings. All zeros stand for
 * "not given", places apart.
 */
typedef struct dividing_ring_readings {
    /**
     * What was measured, in free words; NULL where not said. Ends with NUL.
     */
    const char *name;
    /**
     * Equally spaced places round the turn, measured or not, 3 to 10000; of a
     * closure calibration its positions, 2 to 21600.
     */
    size_t places;
    /**
     * Which way the places are numbered: a dividing_sense. Of coordinates and
     * angles.
     */
    int32_t numbering;
    /**
     * 1 when the two fields below give the axis that the part turns about. Of
     * coordinates.
     */
    int32_t axis;
    /**
     * The axis along X, in millimetres.
     */
    double axis_x_mm;
    /**
     * The axis along Y.
     */
    double axis_y_mm;
    /**
     * Radius: of coordinates the one that the drawing asks for, of angles and
     * deviations the one that turns them into lengths.
     */
    struct dividing_optional_length radius;
    /**
     * Standard uncertainty of every reading, above 0; 0 where not stated: in
     * millimetres of points and chords, in seconds of arc of the others.
     */
    double standard_uncertainty;
    /**
     * Spaces between the two pins of a chord; 0 stands for 1.
     */
    size_t span;
    /**
     * Diameter of the pins in millimetres; 0 for chords between centres.
     */
    double pin_diameter_mm;
} dividing_ring_readings;

/**
 * How far the centre of a circle lies from the axis.
 */
typedef struct dividing_eccentricity {
    /**
     * Centre less axis along X, in millimetres.
     */
    double x_mm;
    /**
     * Centre less axis along Y.
     */
    double y_mm;
    /**
     * Distance of the centre from the axis.
     */
    double amount_mm;
    /**
     * Direction from the axis to the centre, counter-clockwise from X, in
     * radians.
     */
    double direction_rad;
    /**
     * Standard uncertainty of the distance; NaN where none was stated.
     */
    double amount_uncertainty_mm;
    /**
     * Standard uncertainty of the direction, in radians; NaN also where the
     * eccentricity is below twice its uncertainty.
     */
    double direction_uncertainty_rad;
} dividing_eccentricity;

/**
 * The deviations of a ring at a glance, in radians; NaN where a figure cannot
 * be told.
 */
typedef struct dividing_ring_figures {
    /**
     * Places round the turn, measured or not.
     */
    size_t places;
    /**
     * Measured places.
     */
    size_t measured_count;
    /**
     * Harmonics 1 to half the places; 0 when a place is missing.
     */
    size_t harmonic_count;
    /**
     * Radius that turns angles into lengths, in millimetres.
     */
    double radius_mm;
    /**
     * Amplitude of the first harmonic: what an eccentric part or axis gives.
     */
    double first_amplitude_rad;
    /**
     * Its phase.
     */
    double first_phase_rad;
    /**
     * Its standard uncertainty.
     */
    double first_uncertainty_rad;
    /**
     * Things noticed; the report has them in words.
     */
    size_t finding_count;
} dividing_ring_figures;

/**
 * Arrays of the caller for the deviations of places, each with room for
 * `capacity` entries; a column whose pointer is NULL is left out.
 */
typedef struct dividing_deviation_places {
    /**
     * Room of each array, in entries.
     */
    size_t capacity;
    /**
     * Number of the place, from 0.
     */
    size_t *place;
    /**
     * Where it stands less where it should, about the mean of all places, in
     * radians.
     */
    double *deviation_rad;
    /**
     * The same without the first harmonic, in radians.
     */
    double *rest_rad;
    /**
     * Standard uncertainty of the deviation; NaN where none was stated.
     */
    double *standard_uncertainty_rad;
} dividing_deviation_places;

/**
 * The stations of a vernier indexer at a glance.
 */
typedef struct dividing_station_figures {
    /**
     * Stations of the indexer, measured or not.
     */
    size_t stations;
    /**
     * Measured stations.
     */
    size_t measured_count;
    /**
     * Things noticed; the report has them in words.
     */
    size_t finding_count;
} dividing_station_figures;

/**
 * The extremes of pitch, in radians; NaN and 0 where there is none.
 */
typedef struct dividing_pitch {
    /**
     * The place from which the largest single pitch deviation starts.
     */
    size_t single_from;
    /**
     * The place it leads to.
     */
    size_t single_to;
    /**
     * The single pitch deviation that is furthest off, with its sign.
     */
    double single_rad;
    /**
     * Its standard uncertainty.
     */
    double single_uncertainty_rad;
    /**
     * The place with the smallest deviation.
     */
    size_t cumulative_from;
    /**
     * The place with the largest deviation.
     */
    size_t cumulative_to;
    /**
     * The total cumulative pitch deviation.
     */
    double cumulative_rad;
    /**
     * Its standard uncertainty.
     */
    double cumulative_uncertainty_rad;
} dividing_pitch;

/**
 * How well the readings of a calibration agree; NaN where it cannot be told.
 */
typedef struct dividing_closure {
    /**
     * Positions of each device.
     */
    size_t positions;
    /**
     * Set-ups.
     */
    size_t setup_count;
    /**
     * Readings less unknowns that they determine.
     */
    size_t degrees_of_freedom;
    /**
     * Sum of the squared residuals, in square radians.
     */
    double sum_of_squares_rad2;
    /**
     * Standard deviation of a reading from the residuals, in radians.
     */
    double standard_deviation_rad;
    /**
     * Sum of squares over the stated variance of a reading.
     */
    double chi_square;
    /**
     * Probability of a chi-square at least that large if the stated
     * uncertainty is right.
     */
    double probability;
    /**
     * Standard uncertainty of one reading, stated or estimated, in radians.
     */
    double reading_uncertainty_rad;
} dividing_closure;

/**
 * Which set-ups to measure.
 */
typedef struct dividing_shift_plan {
    /**
     * Set-ups: shifts in the caller's array.
     */
    size_t shift_count;
    /**
     * Readings in all: positions times set-ups.
     */
    size_t readings;
    /**
     * Standard uncertainty that every division will have, in radians.
     */
    double division_uncertainty_rad;
    /**
     * Fewest set-ups that can reach the wanted uncertainty, as far as proved;
     * equal to `shift_count` when the plan is proved smallest.
     */
    size_t proved_fewest_setups;
} dividing_shift_plan;

/**
 * The start that is best for a pattern. Deviations are in radians.
 */
typedef struct dividing_best_start {
    /**
     * The place to begin at; the smallest of several equally good ones.
     */
    size_t best;
    /**
     * The worst deviation from there.
     */
    double worst_rad;
    /**
     * The feature that has it.
     */
    size_t worst_feature;
    /**
     * The worst deviation from the worst start.
     */
    double worst_choice_rad;
    /**
     * The mean over all starts.
     */
    double average_choice_rad;
    /**
     * How many starts there were.
     */
    size_t choices;
} dividing_best_start;

/**
 * How a place is corrected on a device with graduations of `graduation_rad`.
 */
typedef struct dividing_correction {
    /**
     * Number of the place.
     */
    size_t place;
    /**
     * Graduations to add to the nominal setting; below 0 means less.
     */
    int64_t graduations;
    /**
     * The same as an angle of the device, in radians.
     */
    double correction_rad;
    /**
     * The deviation that is left, in radians: at most half a graduation.
     */
    double left_rad;
    /**
     * Standard uncertainty of what is left, in radians.
     */
    double standard_uncertainty_rad;
} dividing_correction;

/**
 * Limits of a ring, in radians; 0 for no limit.
 */
typedef struct dividing_ring_limits {
    /**
     * Largest angular deviation of a feature either way.
     */
    double angle_rad;
    /**
     * 1 when `datum_place` is the feature that the others are clocked to; 0
     * when the whole ring may shift.
     */
    int32_t has_datum;
    /**
     * That feature.
     */
    size_t datum_place;
    /**
     * Largest single pitch deviation either way.
     */
    double single_pitch_rad;
    /**
     * Largest total cumulative pitch deviation.
     */
    double cumulative_pitch_rad;
} dividing_ring_limits;

/**
 * The verdict on a measured part.
 */
typedef struct dividing_part_verdict {
    /**
     * Pass when every check passes, fail when one fails, else not proven.
     */
    dividing_decision verdict;
    /**
     * Checks made.
     */
    size_t check_count;
    /**
     * Places that were not measured; a part with any can fail but not pass.
     */
    size_t missing_count;
} dividing_part_verdict;

/**
 * One check of a measured part, in radians, a position in millimetres; NaN where a figure cannot be told.
 */
typedef struct dividing_check {
    /**
     * What was checked.
     */
    dividing_checked checked;
    /**
     * The place; 0 for the total cumulative pitch.
     */
    size_t place;
    /**
     * The measured value.
     */
    double value;
    /**
     * Its standard uncertainty.
     */
    double standard_uncertainty;
    /**
     * How far inside its limits it lies; below 0 outside.
     */
    double margin;
    /**
     * Width of the guard band.
     */
    double guard_band;
    /**
     * Probability that the true value conforms.
     */
    double conformance_probability;
    /**
     * The decision.
     */
    dividing_decision decision;
} dividing_check;

/**
 * The classes of ISO 1328-1:2013 that the pitch of a ring meets.
 */
typedef struct dividing_pitch_class {
    /**
     * Largest single pitch deviation on the reference circle, in micrometres.
     */
    double single_um;
    /**
     * Total cumulative pitch deviation there.
     */
    double cumulative_um;
    /**
     * Finest class whose single pitch tolerance holds; 0 beyond 11.
     */
    uint8_t single_class;
    /**
     * Finest class whose cumulative pitch tolerance holds; 0 beyond 11.
     */
    uint8_t cumulative_class;
    /**
     * Finest class that holds both; 0 beyond 11.
     */
    uint8_t both_classes;
} dividing_pitch_class;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/**
 * The name of a status as in documents and test vectors, such as
 * "missing_unit"; "unknown_status" for a number that is none.
 *
 * Ownership: static text, never freed. Threads: any.
 */
const char *dividing_status_name(int32_t status);

/**
 * A status in a few words of English; dividing_last_error_text says what
 * exactly was wrong.
 *
 * Ownership: static text, never freed. Threads: any.
 */
const char *dividing_status_text(int32_t status);

/**
 * The version of the library that is running, such as "0.1.0".
 *
 * Compare it with DIVIDING_VERSION, the version of the header that the caller
 * was compiled with.
 *
 * Ownership: static text, never freed. Threads: any.
 */
const char *dividing_version(void);

/**
 * The version of the library that is running as one number:
 * major * 1000000 + minor * 1000 + patch.
 *
 * Compare it with DIVIDING_VERSION_NUMBER. Threads: any.
 */
uint32_t dividing_version_number(void);

/**
 * The status of the last call that failed on this thread;
 * DIVIDING_STATUS_OK when none has. A call that succeeds leaves it alone.
 *
 * Threads: every thread has its own.
 */
dividing_status dividing_last_error_status(void);

/**
 * The path to the field that the last error of this thread is about, such as
 * `workshop.equipment[2].worm_head.worm_ratio`, or the name of the argument;
 * empty where there is none.
 *
 * Ownership: the library's, never NULL, valid until the next call that fails
 * on this thread or the thread's end. Threads: every thread has its own.
 */
const char *dividing_last_error_field(void);

/**
 * What was wrong, as a sentence that names the value found and what would be
 * accepted, without the path to the field; empty when no call has failed.
 *
 * Ownership: the library's, never NULL, valid until the next call that fails
 * on this thread or the thread's end. Threads: every thread has its own.
 */
const char *dividing_last_error_message(void);

/**
 * The path to the field, a colon and the message: what to show to a user.
 *
 * Ownership: the library's, never NULL, valid until the next call that fails
 * on this thread or the thread's end. Threads: every thread has its own.
 */
const char *dividing_last_error_text(void);

/**
 * Frees a text that a function of this library wrote to a `char **`.
 *
 * Ownership: the text is gone; a second free of it is an error of the caller
 * that is not caught. NULL is accepted and does nothing. Texts that come as
 * `const char *` are not the caller's and must not be given to this function.
 * Threads: any, one at a time for one text.
 */
void dividing_text_free(char *text);

/**
 * Reads an angle: "22.5 deg", "7°30'15\"", "1/9 turn", "360/7 deg", "40 gon".
 *
 * `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 * `turns` takes the angle as an exact fraction of a turn.
 *
 * Errors: unreadable_text, missing_unit, inexact_unit, overflow when the
 * fraction does not fit 64-bit numbers (dividing_angle_convert has no such
 * limit), null_pointer, invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_angle_parse(const char *text,
                                     size_t length,
                                     struct dividing_fraction *turns);

/**
 * Writes an angle as text.
 *
 * `style` is one of dividing_style; `digits` (0 to 30) counts those after the
 * point, of the degrees or of the seconds, and is not looked at by the exact
 * styles.
 *
 * Errors: out_of_range for a denominator of 0, a style or digits; null_pointer,
 * misaligned. Ownership: `*out` is the caller's, freed with dividing_text_free.
 * Threads: any.
 */
dividing_status dividing_angle_format(struct dividing_fraction turns,
                                      int32_t style,
                                      uint8_t digits,
                                      char **out);

/**
 * Reads an angle and writes it in another style, for angles of any size that
 * the library carries (35 digits).
 *
 * `text` and `length` as in dividing_angle_parse, `style` and `digits` as in
 * dividing_angle_format.
 *
 * Errors: those of both. Ownership: `*out` is the caller's, freed with
 * dividing_text_free. Threads: any.
 */
dividing_status dividing_angle_convert(const char *text,
                                       size_t length,
                                       int32_t style,
                                       uint8_t digits,
                                       char **out);

/**
 * The fraction of a turn nearest to an angle whose denominator is at most
 * `max_denominator`; between two equally near the smaller denominator wins.
 *
 * Errors: out_of_range for a denominator of 0 or a `max_denominator` below 1;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_angle_nearest(struct dividing_fraction turns,
                                       int64_t max_denominator,
                                       struct dividing_fraction *nearest);

/**
 * As dividing_angle_nearest, from text to an exact fraction as text, for
 * angles of any size that the library carries (35 digits).
 *
 * `text` and `length` as in dividing_angle_parse.
 *
 * Errors: those of dividing_angle_parse; out_of_range for a `max_denominator`
 * below 1. Ownership: `*out` is the caller's, freed with dividing_text_free.
 * Threads: any.
 */
dividing_status dividing_angle_nearest_text(const char *text,
                                            size_t length,
                                            int64_t max_denominator,
                                            char **out);

/**
 * The sum of two angles, exact, in turns.
 *
 * Errors: out_of_range for a denominator of 0; overflow; null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_angle_add(struct dividing_fraction first,
                                   struct dividing_fraction second,
                                   struct dividing_fraction *out);

/**
 * The first angle less the second, exact, in turns.
 *
 * Errors and threads as dividing_angle_add.
 */
dividing_status dividing_angle_subtract(struct dividing_fraction first,
                                        struct dividing_fraction second,
                                        struct dividing_fraction *out);

/**
 * An angle times a whole number, exact, in turns.
 *
 * Errors and threads as dividing_angle_add.
 */
dividing_status dividing_angle_multiply(struct dividing_fraction turns,
                                        int64_t factor,
                                        struct dividing_fraction *out);

/**
 * An angle over a whole number, exact, in turns.
 *
 * Errors and threads as dividing_angle_add; out_of_range for a divisor of 0 too.
 */
dividing_status dividing_angle_divide(struct dividing_fraction turns,
                                      int64_t divisor,
                                      struct dividing_fraction *out);

/**
 * The same direction as an angle from 0 to below one turn.
 *
 * Errors and threads as dividing_angle_add.
 */
dividing_status dividing_angle_within_turn(struct dividing_fraction turns,
                                           struct dividing_fraction *out);

/**
 * The angle nearest to `value_deg` degrees whose denominator in turns is at most
 * `max_denominator`: with dividing_angle_from_radians_rounded the one door from a
 * binary number to an exact angle.
 *
 * Errors: not_finite; out_of_range for a `max_denominator` below 1 or an angle
 * beyond bounds; overflow; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_angle_from_degrees_rounded(double value_deg,
                                                    int64_t max_denominator,
                                                    struct dividing_fraction *out);

/**
 * As dividing_angle_from_degrees_rounded, from radians, which are no exact
 * fraction of a turn.
 *
 * Errors and threads as dividing_angle_from_degrees_rounded.
 */
dividing_status dividing_angle_from_radians_rounded(double value_rad,
                                                    int64_t max_denominator,
                                                    struct dividing_fraction *out);

/**
 * Reads a length with its unit: "6 mm", "0.250 in", "20 um".
 *
 * `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 * `value_mm` takes the length in millimetres.
 *
 * Errors: unreadable_text, missing_unit, out_of_range, null_pointer,
 * invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_length_parse(const char *text,
                                      size_t length,
                                      double *value_mm);

/**
 * Checks a workshop, a JSON document with `"format": 1`.
 *
 * `workshop` is UTF-8 of `length` bytes, or up to its NUL with
 * DIVIDING_NUL_ENDED.
 *
 * Errors: the first thing that does not make sense, its path in
 * dividing_last_error_field: malformed_json, unknown_field, invalid_field,
 * unknown_format, out_of_range, not_finite, empty_list, duplicate,
 * inconsistent, overflow; null_pointer, invalid_utf8. Threads: any.
 */
dividing_status dividing_workshop_check(const char *workshop,
                                        size_t length);

/**
 * Checks a job, a JSON document with `"format": 1`.
 *
 * `job` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: as dividing_workshop_check. Threads: any.
 */
dividing_status dividing_job_check(const char *job,
                                   size_t length);

/**
 * A plate on the spindle with a plunger.
 *
 * Errors: those of dividing_workshop_check for such a piece, the field's path
 * beginning with its kind; null_pointer, invalid_utf8, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_equipment_free; the fields are
 * not kept. Threads: any.
 */
dividing_status dividing_equipment_direct_plate(const struct dividing_direct_plate *fields,
                                                struct dividing_equipment **out);

/**
 * A circle of holes with several stations for the pin.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_vernier_indexer(const struct dividing_vernier_indexer *fields,
                                                   struct dividing_equipment **out);

/**
 * A square, hexagon or other block with equal faces.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_faced_block(const struct dividing_faced_block *fields,
                                               struct dividing_equipment **out);

/**
 * A V-block to lay faced blocks in.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_vee_block(const struct dividing_vee_block *fields,
                                             struct dividing_equipment **out);

/**
 * A plate with pins for a levelled bar.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_pin_plate(const struct dividing_pin_plate *fields,
                                             struct dividing_equipment **out);

/**
 * A worm head with a crank and plates.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_worm_head(const struct dividing_worm_head *fields,
                                             struct dividing_equipment **out);

/**
 * A rotary table or head with a graduated dial.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_graduated_dial(const struct dividing_graduated_dial *fields,
                                                  struct dividing_equipment **out);

/**
 * A sine bar, plate or table with gauge blocks.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_sine_bar(const struct dividing_sine_bar *fields,
                                            struct dividing_equipment **out);

/**
 * Angle gauge blocks.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_angle_blocks(const struct dividing_angle_blocks *fields,
                                                struct dividing_equipment **out);

/**
 * A level, clinometer or protractor.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_protractor(const struct dividing_protractor *fields,
                                              struct dividing_equipment **out);

/**
 * A hole or flat that the part already has, against a stop.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_part_reference(const struct dividing_part_reference *fields,
                                                  struct dividing_equipment **out);

/**
 * One device held on another. Its members are looked for when it joins a
 * workshop.
 *
 * Errors, ownership and threads as dividing_equipment_direct_plate.
 */
dividing_status dividing_equipment_stack(const struct dividing_stack *fields,
                                         struct dividing_equipment **out);

/**
 * A piece of equipment from JSON, as it stands in the list of a workshop:
 * {"faced_block":{"name":"square","faces":4}}.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: those of dividing_workshop_check, null_pointer, invalid_utf8,
 * misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_equipment_free. Threads: any.
 */
dividing_status dividing_equipment_from_json(const char *json,
                                             size_t length,
                                             struct dividing_equipment **out);

/**
 * Frees a piece of equipment. A workshop that it joined keeps a copy.
 *
 * Ownership: the handle and its texts are gone; to free or use it again is an
 * error of the caller, seen (not_a_handle) only while its memory is not used
 * for something else. NULL is accepted and does nothing. Threads: any, while
 * no other thread uses the handle.
 */
void dividing_equipment_free(struct dividing_equipment *equipment);

/**
 * What the shop calls it.
 *
 * Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
 * and is valid until it is freed. Threads: any.
 */
dividing_status dividing_equipment_name(const struct dividing_equipment *equipment,
                                        const char **out);

/**
 * Its kind, as in workshop documents: "worm_head".
 *
 * Errors, ownership and threads as dividing_equipment_name.
 */
dividing_status dividing_equipment_kind(const struct dividing_equipment *equipment,
                                        const char **out);

/**
 * It as JSON, as dividing_equipment_from_json reads it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_equipment_json(const struct dividing_equipment *equipment,
                                        char **out);

/**
 * A workshop of pieces of equipment, which it copies.
 *
 * `name` ends with NUL; `pieces` holds `count` handles, 1 to 1000.
 *
 * Errors: empty_list, duplicate for two pieces of one name, not_found and
 * inconsistent for members of a stack, out_of_range; null_pointer,
 * invalid_utf8, misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_workshop_free; the pieces stay the caller's. Threads: any.
 */
dividing_status dividing_workshop_new(const char *name,
                                      const struct dividing_equipment *const *pieces,
                                      size_t count,
                                      struct dividing_workshop **out);

/**
 * A new workshop: another one and more equipment after it.
 *
 * Errors, ownership and threads as dividing_workshop_new; the workshop given
 * stays as it is.
 */
dividing_status dividing_workshop_with(const struct dividing_workshop *workshop,
                                       const struct dividing_equipment *const *pieces,
                                       size_t count,
                                       struct dividing_workshop **out);

/**
 * A workshop from a JSON document with `"format": 1`.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: those of dividing_workshop_check, misaligned. Ownership: `*out` is
 * the caller's, freed with dividing_workshop_free. Threads: any.
 */
dividing_status dividing_workshop_from_json(const char *json,
                                            size_t length,
                                            struct dividing_workshop **out);

/**
 * Frees a workshop. Plans and tables made from it stay as they are.
 *
 * Ownership: the handle and its texts are gone; to free or use it again is an
 * error of the caller, seen (not_a_handle) only while its memory is not used
 * for something else. NULL is accepted and does nothing. Threads: any, while
 * no other thread uses the handle.
 */
void dividing_workshop_free(struct dividing_workshop *workshop);

/**
 * What the shop is called.
 *
 * Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
 * and is valid until it is freed. Threads: any.
 */
dividing_status dividing_workshop_name(const struct dividing_workshop *workshop,
                                       const char **out);

/**
 * How many pieces of equipment it has.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_workshop_count(const struct dividing_workshop *workshop,
                                        size_t *out);

/**
 * Name and kind of a piece, counted from 0 in the order given.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the texts belong to
 * the workshop's handle. Threads: any.
 */
dividing_status dividing_workshop_piece(const struct dividing_workshop *workshop,
                                        size_t index,
                                        struct dividing_piece *out);

/**
 * The place of the piece of a name, counted from 0; `name` ends with NUL.
 *
 * Errors: not_found, null_pointer, invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_workshop_find(const struct dividing_workshop *workshop,
                                       const char *name,
                                       size_t *out);

/**
 * A copy of a piece, counted from 0.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_equipment_free. Threads: any.
 */
dividing_status dividing_workshop_equipment(const struct dividing_workshop *workshop,
                                            size_t index,
                                            struct dividing_equipment **out);

/**
 * The workshop as a JSON document, as dividing_workshop_from_json reads it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_workshop_json(const struct dividing_workshop *workshop,
                                       char **out);

/**
 * A job: N equal divisions of anything.
 *
 * `name` is what the job is called and ends with NUL; `terms` may be NULL.
 *
 * Errors: those of dividing_job_check, the field's path as in job documents
 * (`features.equal_divisions.count`) or the name of a field of the terms;
 * null_pointer, invalid_utf8, misaligned. Ownership: `*out`
 * is the caller's, freed with dividing_job_free; what comes in is not kept.
 * Threads: any.
 */
dividing_status dividing_job_equal_divisions(const char *name,
                                             const struct dividing_equal_divisions *fields,
                                             const struct dividing_job_terms *terms,
                                             struct dividing_job **out);

/**
 * A job: holes on a circle.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_bolt_circle(const char *name,
                                         const struct dividing_bolt_circle *fields,
                                         const struct dividing_job_terms *terms,
                                         struct dividing_job **out);

/**
 * A job: flats on round stock.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_flats(const char *name,
                                   const struct dividing_flats *fields,
                                   const struct dividing_job_terms *terms,
                                   struct dividing_job **out);

/**
 * A job: slots with parallel sides.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_slots(const char *name,
                                   const struct dividing_slots *fields,
                                   const struct dividing_job_terms *terms,
                                   struct dividing_job **out);

/**
 * A job: teeth of a spur wheel.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_teeth(const char *name,
                                   const struct dividing_teeth *fields,
                                   const struct dividing_job_terms *terms,
                                   struct dividing_job **out);

/**
 * A job: lines of a scale.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_graduations(const char *name,
                                         const struct dividing_graduations *fields,
                                         const struct dividing_job_terms *terms,
                                         struct dividing_job **out);

/**
 * A job: any list of angles.
 *
 * Arguments, errors, ownership and threads as dividing_job_equal_divisions.
 */
dividing_status dividing_job_angles(const char *name,
                                    const struct dividing_angle_list *fields,
                                    const struct dividing_job_terms *terms,
                                    struct dividing_job **out);

/**
 * A job from a JSON document with `"format": 1`.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: those of dividing_job_check, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_job_free. Threads: any.
 */
dividing_status dividing_job_from_json(const char *json,
                                       size_t length,
                                       struct dividing_job **out);

/**
 * Frees a job. Plans made from it stay as they are.
 *
 * Ownership: the handle and its texts are gone; to free or use it again is an
 * error of the caller, seen (not_a_handle) only while its memory is not used
 * for something else. NULL is accepted and does nothing. Threads: any, while
 * no other thread uses the handle.
 */
void dividing_job_free(struct dividing_job *job);

/**
 * What the job is called.
 *
 * Errors: null_pointer, misaligned. Ownership: the text belongs to the handle
 * and is valid until it is freed. Threads: any.
 */
dividing_status dividing_job_name(const struct dividing_job *job,
                                  const char **out);

/**
 * How many features it has.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_job_count(const struct dividing_job *job,
                                   size_t *out);

/**
 * The drawing angles of all features, in the order of making, into the
 * caller's array of `capacity` fractions; dividing_job_count says how many.
 *
 * Errors: buffer_too_small, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_job_feature_angles(const struct dividing_job *job,
                                            struct dividing_fraction *turns,
                                            size_t capacity);

/**
 * The largest deviation in angle that its tolerance allows, in radians; for
 * pitches the tightest limit.
 *
 * Errors: not_found without a tolerance, null_pointer, misaligned. Threads:
 * any.
 */
dividing_status dividing_job_limit_rad(const struct dividing_job *job,
                                       double *out);

/**
 * The job as a JSON document, as dividing_job_from_json reads it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_job_json(const struct dividing_job *job,
                                  char **out);

/**
 * What the bench measures at the flats of a job.
 *
 * Errors: inconsistent for a job without flats, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_job_flats_measures(const struct dividing_job *job,
                                            struct dividing_flats_measures *out);

/**
 * What the bench measures at the slots of a job.
 *
 * Errors: inconsistent for a job without slots, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_job_slots_measures(const struct dividing_job *job,
                                            struct dividing_slots_measures *out);

/**
 * The measures of the wheel of a job.
 *
 * Errors: inconsistent for a job without teeth, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_job_teeth_measures(const struct dividing_job *job,
                                            struct dividing_teeth_measures *out);

/**
 * The centres of the holes of a job's bolt circle in the machine's axes, in
 * millimetres, in the order of making, into two arrays of the caller of
 * `capacity` numbers each; dividing_job_count says how many.
 *
 * Errors: inconsistent for a job without a bolt circle, buffer_too_small,
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_job_hole_places(const struct dividing_job *job,
                                         size_t capacity,
                                         double *x_mm,
                                         double *y_mm);

/**
 * Centre distance of holes of a job's bolt circle that are `spaces` apart, in
 * millimetres, to check by.
 *
 * Errors: inconsistent for a job without a bolt circle, null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_job_chord_mm(const struct dividing_job *job,
                                      uint32_t spaces,
                                      double *out);

/**
 * Every way of every piece of a workshop, in its order; with a job also the
 * best compound and differential set-ups for it, and moves to be repeated where
 * nothing is exact.
 *
 * `job` may be NULL. `work_limit`, `watcher` and `userdata` as
 * dividing_plans_new_within.
 *
 * Errors: overflow when an angle does not fit; work_limit, cancelled;
 * null_pointer, misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_ways_free; workshop and job may be freed before it. Threads: any.
 */
dividing_status dividing_ways_new(const struct dividing_workshop *workshop,
                                  const struct dividing_job *job,
                                  uint64_t work_limit,
                                  dividing_watcher watcher,
                                  void *userdata,
                                  struct dividing_ways **out);

/**
 * Frees ways.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_ways_free(struct dividing_ways *ways);

/**
 * How many ways there are.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_ways_count(const struct dividing_ways *ways,
                                    size_t *out);

/**
 * One way at a glance, counted from 0.
 *
 * Errors: not_found; overflow when a number does not fit its field;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_ways_get(const struct dividing_ways *ways,
                                  size_t way,
                                  struct dividing_way *out);

/**
 * How the equipment is used in a way, as JSON: "block_flat",
 * {"direct_circle":{"circle":0}}.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_ways_kind_json(const struct dividing_ways *ways,
                                        size_t way,
                                        char **out);

/**
 * The exact set that a way holds, into two arrays of the caller of `capacity`
 * entries each: of every coset the `orders` of its equally spaced orientations
 * and the angle that one of them goes `through`, in turns from 0 to below
 * 1/order.
 *
 * Errors: not_found, buffer_too_small; overflow when a number does not fit its
 * field; null_pointer, misaligned; on any of them no array is touched. Threads:
 * any.
 */
dividing_status dividing_ways_cosets(const struct dividing_ways *ways,
                                     size_t way,
                                     uint64_t *orders,
                                     struct dividing_fraction *through,
                                     size_t capacity);

/**
 * Whether the set of a way holds an orientation exactly, in turns, whole turns
 * not counted; fine points are left out.
 *
 * Errors: not_found; out_of_range for a denominator of 0; overflow;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_ways_holds(const struct dividing_ways *ways,
                                    size_t way,
                                    struct dividing_fraction turns,
                                    bool *out);

/**
 * What to set so that a way presents an orientation of its set, in turns, as a
 * record.
 *
 * Errors: not_found for a way, and for an orientation that its set does not
 * hold; out_of_range for a denominator of 0; overflow when a number does not
 * fit its field; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_ways_setting(const struct dividing_ways *ways,
                                      size_t way,
                                      struct dividing_fraction turns,
                                      struct dividing_setting *out);

/**
 * Lays the pattern of a job on one way: exactly where it can be, else with the
 * largest residual as small as it can be.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: not_found; overflow when the angles have no common denominator within
 * bounds or do not fit their fields; work_limit, cancelled; null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_ways_reach(const struct dividing_ways *ways,
                                    size_t way,
                                    const struct dividing_job *job,
                                    uint64_t work_limit,
                                    dividing_watcher watcher,
                                    void *userdata,
                                    struct dividing_reach *out);

/**
 * Whether the pin of a way enters its holes when a job is laid on it, at worst
 * and how likely for one hole; of a stack for the member where it is tightest.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: not_found for a way; undetermined where no pin enters holes, or the
 * workshop does not say its sizes; overflow; work_limit, cancelled;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_ways_pin_entry(const struct dividing_ways *ways,
                                        size_t way,
                                        const struct dividing_job *job,
                                        uint64_t work_limit,
                                        dividing_watcher watcher,
                                        void *userdata,
                                        struct dividing_entry_finding *out);

/**
 * The exact set that a way holds; its fine points are left out.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_orientations_free; the ways may be freed before
 * it. Threads: any.
 */
dividing_status dividing_ways_orientations(const struct dividing_ways *ways,
                                           size_t way,
                                           struct dividing_orientations **out);

/**
 * The set of `count` cosets: of each the `orders` of its equally spaced
 * orientations, 1 or more, and an angle that one of them goes `through`, in
 * turns. With no cosets it holds nothing.
 *
 * Errors: out_of_range for an order or denominator of 0, with the path to it;
 * overflow, null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_orientations_free; nothing that comes in is kept. Threads: any.
 */
dividing_status dividing_orientations_of_cosets(const uint64_t *orders,
                                                const struct dividing_fraction *through,
                                                size_t count,
                                                struct dividing_orientations **out);

/**
 * Frees a set of orientations.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_orientations_free(struct dividing_orientations *orientations);

/**
 * How many cosets a set is written with; 0 for one that holds nothing.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_orientations_coset_count(const struct dividing_orientations *orientations,
                                                  size_t *out);

/**
 * The cosets of a set, into two arrays of the caller of `capacity` entries
 * each, as dividing_ways_cosets.
 *
 * Errors: buffer_too_small; overflow when a number does not fit its field;
 * null_pointer, misaligned; on any of them no array is touched. Threads: any.
 */
dividing_status dividing_orientations_cosets(const struct dividing_orientations *orientations,
                                             uint64_t *orders,
                                             struct dividing_fraction *through,
                                             size_t capacity);

/**
 * Whether a set holds an orientation, in turns, whole turns not counted.
 *
 * Errors: out_of_range for a denominator of 0; overflow, null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_orientations_hold(const struct dividing_orientations *orientations,
                                           struct dividing_fraction turns,
                                           bool *out);

/**
 * Everything that one set or the other holds.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_orientations_free. Threads: any.
 */
dividing_status dividing_orientations_union(const struct dividing_orientations *first,
                                            const struct dividing_orientations *second,
                                            struct dividing_orientations **out);

/**
 * Every sum of an orientation of one set and one of the other: one device held
 * on another.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_orientations_free. Threads: any.
 */
dividing_status dividing_orientations_sum(const struct dividing_orientations *first,
                                          const struct dividing_orientations *second,
                                          uint64_t work_limit,
                                          dividing_watcher watcher,
                                          void *userdata,
                                          struct dividing_orientations **out);

/**
 * What both sets hold.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_orientations_free. Threads: any.
 */
dividing_status dividing_orientations_intersection(const struct dividing_orientations *first,
                                                   const struct dividing_orientations *second,
                                                   uint64_t work_limit,
                                                   dividing_watcher watcher,
                                                   void *userdata,
                                                   struct dividing_orientations **out);

/**
 * Whether the second set holds everything that the first holds; sets that lie
 * within one another are equal, however they are written.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: overflow, work_limit, cancelled, null_pointer, misaligned. Threads:
 * any.
 */
dividing_status dividing_orientations_within(const struct dividing_orientations *first,
                                             const struct dividing_orientations *second,
                                             uint64_t work_limit,
                                             dividing_watcher watcher,
                                             void *userdata,
                                             bool *out);

/**
 * Every start from which a set, such as that of a way, holds a whole pattern of
 * `count` angles exactly, in turns: a set that holds nothing where there is
 * none.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: out_of_range for a denominator of 0, with the path to it; overflow,
 * work_limit, cancelled, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_orientations_free. Threads: any.
 */
dividing_status dividing_orientations_exact_starts(const struct dividing_orientations *orientations,
                                                   const struct dividing_fraction *turns,
                                                   size_t count,
                                                   uint64_t work_limit,
                                                   dividing_watcher watcher,
                                                   void *userdata,
                                                   struct dividing_orientations **out);

/**
 * Plans a job on everything that a workshop owns.
 *
 * Both texts are JSON documents in UTF-8 with `"format": 1`, of the length
 * given in bytes, or up to their NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: those of dividing_workshop_check and dividing_job_check, the field's
 * path beginning with "workshop" or "job"; overflow when the angles have no
 * common denominator within bounds; inconsistent when nothing in the workshop
 * holds a part; work_limit; null_pointer, invalid_utf8,
 * misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_plans_free. Threads: any.
 */
dividing_status dividing_plans_new(const char *workshop,
                                   size_t workshop_length,
                                   const char *job,
                                   size_t job_length,
                                   struct dividing_plans **out);

/**
 * As dividing_plans_new, with a limit of work and a watcher that can stop it.
 *
 * `work_limit` counts elementary steps of the searches, the same on every
 * machine; 0 stands for the limit of dividing_plans_new, 100 million, some
 * seconds. `watcher` may be NULL; it is called on this thread with `userdata`,
 * which the library does not look at.
 *
 * Errors: as dividing_plans_new, and cancelled. Ownership: `*out` is the
 * caller's, freed with dividing_plans_free. Threads: any.
 */
dividing_status dividing_plans_new_within(const char *workshop,
                                          size_t workshop_length,
                                          const char *job,
                                          size_t job_length,
                                          uint64_t work_limit,
                                          dividing_watcher watcher,
                                          void *userdata,
                                          struct dividing_plans **out);

/**
 * Plans a job on a workshop, both from their handles.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: overflow when the angles have no common denominator within bounds;
 * inconsistent when nothing in the workshop holds a part; work_limit,
 * cancelled; null_pointer, misaligned. Ownership: `*out` is the caller's,
 * freed with dividing_plans_free; workshop and job may be freed before it.
 * Threads: any.
 */
dividing_status dividing_plans_of(const struct dividing_workshop *workshop,
                                  const struct dividing_job *job,
                                  uint64_t work_limit,
                                  dividing_watcher watcher,
                                  void *userdata,
                                  struct dividing_plans **out);

/**
 * Frees plans.
 *
 * Ownership: the handle and every text that belongs to it are gone; to free or
 * use it again is an error of the caller, seen (not_a_handle) only while its
 * memory is not used for something else. NULL is accepted and does nothing.
 * Threads: any, while no other thread uses the handle.
 */
void dividing_plans_free(struct dividing_plans *plans);

/**
 * How many plans there are: one for each piece of equipment that can be used
 * alone, and one more each for compound and differential indexing where these
 * are exact and simple indexing is not.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_count(const struct dividing_plans *plans,
                                     size_t *count);

/**
 * One plan at a glance, counted from 0, the best first.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the texts in `*out`
 * belong to the handle. Threads: any.
 */
dividing_status dividing_plans_get(const struct dividing_plans *plans,
                                   size_t plan,
                                   struct dividing_plan *out);

/**
 * The largest residual of a plan, without sign, as an exact fraction of a turn.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_largest_residual(const struct dividing_plans *plans,
                                                size_t plan,
                                                struct dividing_fraction *turns);

/**
 * As dividing_plans_largest_residual, as exact text of any size: "1/720 turn".
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_largest_residual_text(const struct dividing_plans *plans,
                                                     size_t plan,
                                                     char **out);

/**
 * The drawing angle that a step must give, as an exact fraction of a turn.
 * Steps count from 0, in the order of the job's features.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_required(const struct dividing_plans *plans,
                                             size_t plan,
                                             size_t step,
                                             struct dividing_fraction *turns);

/**
 * As dividing_plans_step_required, as exact text of any size: "1/9 turn".
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_step_required_text(const struct dividing_plans *plans,
                                                  size_t plan,
                                                  size_t step,
                                                  char **out);

/**
 * The drawing angle that the setting of a step gives, as an exact fraction of
 * a turn.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_attained(const struct dividing_plans *plans,
                                             size_t plan,
                                             size_t step,
                                             struct dividing_fraction *turns);

/**
 * As dividing_plans_step_attained, as exact text of any size.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_step_attained_text(const struct dividing_plans *plans,
                                                  size_t plan,
                                                  size_t step,
                                                  char **out);

/**
 * The residual of a step, attained less required, as an exact fraction of a
 * turn: 0/1 when it is exact.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_residual(const struct dividing_plans *plans,
                                             size_t plan,
                                             size_t step,
                                             struct dividing_fraction *turns);

/**
 * As dividing_plans_step_residual, as exact text of any size.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_step_residual_text(const struct dividing_plans *plans,
                                                  size_t plan,
                                                  size_t step,
                                                  char **out);

/**
 * How far off the feature of a step may be.
 *
 * Errors: not_found, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_error(const struct dividing_plans *plans,
                                          size_t plan,
                                          size_t step,
                                          struct dividing_error_figure *out);

/**
 * What to set for a step, as a record.
 *
 * Errors: not_found; overflow when a number does not fit its field;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_setting(const struct dividing_plans *plans,
                                            size_t plan,
                                            size_t step,
                                            struct dividing_setting *out);

/**
 * What to set for a step, in the words of the sheet: "4 turns + 8 holes".
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_step_setting_text(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 size_t step,
                                                 char **out);

/**
 * What to set for a step, as JSON: {"crank":{"plate":0,...}}.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_step_setting_json(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 size_t step,
                                                 char **out);

/**
 * All plans with every field as one JSON document.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_json(const struct dividing_plans *plans,
                                    char **out);

/**
 * How many gauge blocks a stack of a sine bar has: `low` 0 for those under the
 * high roller, 1 for those under the low one. Stacks count from 0.
 *
 * Errors: not_found; inconsistent for another setting; out_of_range for `low`;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_block_count(const struct dividing_plans *plans,
                                                size_t plan,
                                                size_t step,
                                                size_t stack,
                                                int32_t low,
                                                size_t *out);

/**
 * The gauge blocks of a stack of a sine bar in millimetres, ascending, into
 * the caller's array of `capacity` numbers; arguments as
 * dividing_plans_step_block_count, which says how many there are.
 *
 * Errors: its errors and buffer_too_small. Threads: any.
 */
dividing_status dividing_plans_step_blocks(const struct dividing_plans *plans,
                                           size_t plan,
                                           size_t step,
                                           size_t stack,
                                           int32_t low,
                                           double *blocks_mm,
                                           size_t capacity);

/**
 * The angle blocks of a step in seconds of arc, ascending, into the caller's
 * array of `capacity` numbers: `minus` 0 for those that add their angle, 1 for
 * those that take it away. The setting's plus_count and minus_count say how
 * many there are.
 *
 * Errors: not_found; inconsistent for another setting; out_of_range for
 * `minus`; buffer_too_small, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_step_angle_blocks(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 size_t step,
                                                 int32_t minus,
                                                 uint32_t *blocks_arcsec,
                                                 size_t capacity);

/**
 * The setting of one member of a stack, counted from 0 from the machine to the
 * part, as a record.
 *
 * Errors: not_found; inconsistent for another setting; overflow; null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_plans_step_member(const struct dividing_plans *plans,
                                           size_t plan,
                                           size_t step,
                                           size_t member,
                                           struct dividing_setting *out);

/**
 * The set-up sheet of a plan, counted from 0, as plain text for the bench in
 * the units that the job asks for, lines ending with a newline.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_sheet_text(const struct dividing_plans *plans,
                                          size_t plan,
                                          char **out);

/**
 * The set-up sheet of a plan as an HTML fragment, every text escaped.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_sheet_html(const struct dividing_plans *plans,
                                          size_t plan,
                                          char **out);

/**
 * The set-up sheet of a plan as JSON: title, facts, steps, checks, cautions.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_sheet_json(const struct dividing_plans *plans,
                                          size_t plan,
                                          char **out);

/**
 * The picture of a plan as SVG: the plate with the used holes numbered, the
 * block in its seats, or the dial's readings.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_drawing_svg(const struct dividing_plans *plans,
                                           size_t plan,
                                           char **out);

/**
 * Finds which of `first` to `last` divisions everything in a workshop makes
 * exactly; both numbers are 1 to 1000000.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, the table is marked incomplete.
 *
 * Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
 * is the caller's, freed with dividing_exact_table_free; the workshop may be
 * freed before it. Threads: any.
 */
dividing_status dividing_exact_table_new(const struct dividing_workshop *workshop,
                                         uint32_t first,
                                         uint32_t last,
                                         uint64_t work_limit,
                                         dividing_watcher watcher,
                                         void *userdata,
                                         struct dividing_exact_table **out);

/**
 * Frees a table.
 *
 * Ownership: the handle and its columns are gone; to free or use it again is
 * an error of the caller, seen (not_a_handle) only while its memory is not
 * used for something else. NULL is accepted and does nothing. Threads: any,
 * while no other thread uses the handle.
 */
void dividing_exact_table_free(struct dividing_exact_table *table);

/**
 * What the table covers.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_exact_table_covers(const struct dividing_exact_table *table,
                                            struct dividing_table_range *out);

/**
 * One section, counted from 0, with its column read in place.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
 * the handle and is valid until it is freed. Threads: any.
 */
dividing_status dividing_exact_table_section(const struct dividing_exact_table *table,
                                             size_t index,
                                             struct dividing_table_section *out);

/**
 * The column of one section into the caller's array of `capacity` bytes.
 *
 * Errors: not_found, buffer_too_small, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_exact_table_copy(const struct dividing_exact_table *table,
                                          size_t index,
                                          uint8_t *exact,
                                          size_t capacity);

/**
 * The table as JSON.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_exact_table_json(const struct dividing_exact_table *table,
                                          char **out);

/**
 * Finds the best setting of every method of every piece for `first` to `last`
 * divisions, and the nearest of simple indexing where none is exact; both
 * numbers are 1 to 1000000.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, the table is marked incomplete.
 *
 * Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
 * is the caller's, freed with dividing_indexing_table_free; the workshop may
 * be freed before it. Threads: any.
 */
dividing_status dividing_indexing_table_new(const struct dividing_workshop *workshop,
                                            uint32_t first,
                                            uint32_t last,
                                            uint64_t work_limit,
                                            dividing_watcher watcher,
                                            void *userdata,
                                            struct dividing_indexing_table **out);

/**
 * Frees a table.
 *
 * Ownership: the handle and its columns are gone; to free or use it again is
 * an error of the caller, seen (not_a_handle) only while its memory is not
 * used for something else. NULL is accepted and does nothing. Threads: any,
 * while no other thread uses the handle.
 */
void dividing_indexing_table_free(struct dividing_indexing_table *table);

/**
 * What the table covers.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_indexing_table_covers(const struct dividing_indexing_table *table,
                                               struct dividing_table_range *out);

/**
 * One section, counted from 0: its equipment, its method, and where it is
 * exact.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
 * the handle and is valid until it is freed. Threads: any.
 */
dividing_status dividing_indexing_table_section(const struct dividing_indexing_table *table,
                                                size_t index,
                                                struct dividing_table_section *out);

/**
 * The columns of a section of simple indexing, read in place.
 *
 * Errors: not_found; inconsistent for a section of another method;
 * null_pointer, misaligned. Ownership: the columns belong to the handle and
 * are valid until it is freed. Threads: any.
 */
dividing_status dividing_indexing_table_simple(const struct dividing_indexing_table *table,
                                               size_t index,
                                               struct dividing_simple_columns *out);

/**
 * The columns of a section of compound indexing, read in place.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_indexing_table_compound(const struct dividing_indexing_table *table,
                                                 size_t index,
                                                 struct dividing_compound_columns *out);

/**
 * The columns of a section of differential indexing, read in place.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_indexing_table_differential(const struct dividing_indexing_table *table,
                                                     size_t index,
                                                     struct dividing_differential_columns *out);

/**
 * The columns of a section of other equipment, read in place.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_indexing_table_held(const struct dividing_indexing_table *table,
                                             size_t index,
                                             struct dividing_held_columns *out);

/**
 * The table as JSON.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_indexing_table_json(const struct dividing_indexing_table *table,
                                             char **out);

/**
 * Copies the columns of a section of simple indexing into the caller's arrays.
 *
 * Errors: not_found; inconsistent for a section of another method;
 * buffer_too_small, null_pointer, misaligned; on any of them no array is
 * touched. Threads: any.
 */
dividing_status dividing_indexing_table_copy_simple(const struct dividing_indexing_table *table,
                                                    size_t index,
                                                    const struct dividing_simple_places *places);

/**
 * Copies the columns of a section of compound indexing into the caller's
 * arrays.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_indexing_table_copy_compound(const struct dividing_indexing_table *table,
                                                      size_t index,
                                                      const struct dividing_compound_places *places);

/**
 * Copies the columns of a section of differential indexing into the caller's
 * arrays.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_indexing_table_copy_differential(const struct dividing_indexing_table *table,
                                                          size_t index,
                                                          const struct dividing_differential_places *places);

/**
 * Copies the columns of a section of other equipment into the caller's arrays.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_indexing_table_copy_held(const struct dividing_indexing_table *table,
                                                  size_t index,
                                                  const struct dividing_held_places *places);

/**
 * Copies the columns of a section of simple indexing of a stepping table into the
 * caller's arrays; what repeating the moves does is copied by
 * dividing_stepping_table_copy_errors.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_stepping_table_copy_simple(const struct dividing_stepping_table *table,
                                                    size_t index,
                                                    const struct dividing_simple_places *places);

/**
 * Copies the columns of a section of compound indexing of a stepping table into the
 * caller's arrays; what repeating the moves does is copied by
 * dividing_stepping_table_copy_errors.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_stepping_table_copy_compound(const struct dividing_stepping_table *table,
                                                      size_t index,
                                                      const struct dividing_compound_places *places);

/**
 * Copies the columns of a section of differential indexing of a stepping table into the
 * caller's arrays; what repeating the moves does is copied by
 * dividing_stepping_table_copy_errors.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_stepping_table_copy_differential(const struct dividing_stepping_table *table,
                                                          size_t index,
                                                          const struct dividing_differential_places *places);

/**
 * Finds the nearest move of every method of every worm head for `first` to
 * `last` divisions, to be repeated round the turn; both numbers are 1 to
 * 1000000. Other equipment has no moves to repeat and gives no section.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, the table is marked incomplete.
 *
 * Errors: out_of_range, overflow, null_pointer, misaligned. Ownership: `*out`
 * is the caller's, freed with dividing_stepping_table_free; the workshop may
 * be freed before it. Threads: any.
 */
dividing_status dividing_stepping_table_new(const struct dividing_workshop *workshop,
                                            uint32_t first,
                                            uint32_t last,
                                            uint64_t work_limit,
                                            dividing_watcher watcher,
                                            void *userdata,
                                            struct dividing_stepping_table **out);

/**
 * Frees a table.
 *
 * Ownership: the handle and its columns are gone; to free or use it again is
 * an error of the caller, seen (not_a_handle) only while its memory is not
 * used for something else. NULL is accepted and does nothing. Threads: any,
 * while no other thread uses the handle.
 */
void dividing_stepping_table_free(struct dividing_stepping_table *table);

/**
 * What the table covers.
 *
 * Where it is not complete, rows may hold no move, or one that is not the
 * nearest.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_stepping_table_covers(const struct dividing_stepping_table *table,
                                               struct dividing_table_range *out);

/**
 * One section, counted from 0: its worm head, its method (simple, compound or
 * differential), and where repeating the move is exact.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the column belongs to
 * the handle and is valid until it is freed. Threads: any.
 */
dividing_status dividing_stepping_table_section(const struct dividing_stepping_table *table,
                                                size_t index,
                                                struct dividing_table_section *out);

/**
 * The moves of simple indexing, read in place: where none is exact, the nearest.
 * `residual_turns` is 0 throughout, as no setting is counted from zero;
 * dividing_stepping_table_errors has what repeating the move does.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_stepping_table_simple(const struct dividing_stepping_table *table,
                                               size_t index,
                                               struct dividing_simple_columns *out);

/**
 * The moves of compound indexing, read in place: where none is exact, the
 * nearest; all 0 where no plate has two circles on one side.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_stepping_table_compound(const struct dividing_stepping_table *table,
                                                 size_t index,
                                                 struct dividing_compound_columns *out);

/**
 * The moves of differential indexing, read in place: where none is exact, the
 * nearest.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_stepping_table_differential(const struct dividing_stepping_table *table,
                                                     size_t index,
                                                     struct dividing_differential_columns *out);

/**
 * What repeating the moves of a section does, of any method, read in place.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the columns belong to
 * the handle and are valid until it is freed. Threads: any.
 */
dividing_status dividing_stepping_table_errors(const struct dividing_stepping_table *table,
                                               size_t index,
                                               struct dividing_stepping_columns *out);

/**
 * The nearest moves of several divisions, of a section of simple indexing, read
 * in place.
 *
 * Errors, ownership and threads as dividing_indexing_table_simple.
 */
dividing_status dividing_stepping_table_several_divisions(const struct dividing_stepping_table *table,
                                                          size_t index,
                                                          struct dividing_several_divisions_columns *out);

/**
 * Copies what repeating the moves of a section does into the caller's arrays.
 *
 * Errors: not_found, buffer_too_small, null_pointer, misaligned; on any of them
 * no array is touched. Threads: any.
 */
dividing_status dividing_stepping_table_copy_errors(const struct dividing_stepping_table *table,
                                                    size_t index,
                                                    const struct dividing_stepping_places *places);

/**
 * Copies the moves of several divisions, of a section of simple indexing, into
 * the caller's arrays.
 *
 * Errors and threads as dividing_indexing_table_copy_simple.
 */
dividing_status dividing_stepping_table_copy_several_divisions(const struct dividing_stepping_table *table,
                                                               size_t index,
                                                               const struct dividing_several_divisions_places *places);

/**
 * The table as JSON.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_stepping_table_json(const struct dividing_stepping_table *table,
                                             char **out);

/**
 * Finds all trains of exactly a ratio, drivers over driven, the fewest gears
 * first.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, what was found is marked incomplete.
 *
 * Errors: out_of_range, null_pointer, misaligned; work_limit and cancelled
 * while it is prepared. Ownership: `*out` is the caller's, freed with
 * dividing_trains_free. Threads: any.
 */
dividing_status dividing_trains_new(const struct dividing_gears *gears,
                                    struct dividing_fraction target,
                                    uint64_t work_limit,
                                    dividing_watcher watcher,
                                    void *userdata,
                                    struct dividing_trains **out);

/**
 * Frees trains.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_trains_free(struct dividing_trains *trains);

/**
 * How many trains were found, and whether these are all.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_trains_found(const struct dividing_trains *trains,
                                      struct dividing_trains_result *out);

/**
 * The trains into the caller's array of `capacity` records, in their order.
 *
 * Errors: buffer_too_small, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_trains_copy(const struct dividing_trains *trains,
                                     struct dividing_train *records,
                                     size_t capacity);

/**
 * Finds the train whose ratio, drivers over driven, is nearest to `target`.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, the best found is marked incomplete.
 *
 * Errors: out_of_range; not_found when no train clears; work_limit and
 * cancelled when nothing was found yet; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_train_nearest(const struct dividing_gears *gears,
                                       struct dividing_fraction target,
                                       uint64_t work_limit,
                                       dividing_watcher watcher,
                                       void *userdata,
                                       struct dividing_nearest_train *out);

/**
 * The ratio of a train, drivers over driven, in lowest terms.
 *
 * Errors: out_of_range for a train that is none, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_train_ratio(const struct dividing_train *train,
                                     struct dividing_fraction *out);

/**
 * The gears whose lead is nearest to the one wanted, and how the table swivels.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: as dividing_train_nearest. Threads: any.
 */
dividing_status dividing_lead_gearing(const struct dividing_gears *gears,
                                      const struct dividing_helix *helix,
                                      uint64_t work_limit,
                                      dividing_watcher watcher,
                                      void *userdata,
                                      struct dividing_lead *out);

/**
 * The gears of a plan by differential indexing.
 *
 * Errors: not_found; inconsistent for a plan by another method; overflow;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_differential(const struct dividing_plans *plans,
                                            size_t plan,
                                            struct dividing_differential_move *out);

/**
 * The move of a plan by compound indexing; its steps say the circles.
 *
 * Errors: not_found; inconsistent for a plan by another method; overflow;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_compound(const struct dividing_plans *plans,
                                        size_t plan,
                                        struct dividing_compound_move *out);

/**
 * A set of gauge blocks of these sizes in `unit`, a dividing_block_unit: `count`
 * of them, at most 300, each owned once.
 *
 * Errors: empty_list, duplicate, out_of_range, null_pointer, misaligned.
 * Ownership: `*out` is the caller's, freed with dividing_block_set_free.
 * Threads: any.
 */
dividing_status dividing_block_set_new(int32_t unit,
                                       const uint32_t *sizes,
                                       size_t count,
                                       struct dividing_block_set **out);

/**
 * A common set of gauge blocks by its name, which ends with NUL: "metric_112",
 * "metric_103", "metric_87", "metric_47", "metric_32", "inch_81", "inch_36".
 *
 * Errors: invalid_field for another name, null_pointer, invalid_utf8,
 * misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_block_set_free. Threads: any.
 */
dividing_status dividing_block_set_named(const char *name,
                                         struct dividing_block_set **out);

/**
 * Frees a set of gauge blocks.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_block_set_free(struct dividing_block_set *set);

/**
 * The stack of fewest blocks for a height, in millimetres, within a tolerance
 * either way, in the unit of the set (dividing_block_unit).
 *
 * `wear_block` is the thickness of the wear block at each end, if they are
 * used. `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: out_of_range; not_found when no stack is so near; work_limit,
 * cancelled; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_block_stack(const struct dividing_block_set *set,
                                     double height_mm,
                                     uint32_t tolerance_units,
                                     struct dividing_optional_length wear_block,
                                     uint64_t work_limit,
                                     dividing_watcher watcher,
                                     void *userdata,
                                     struct dividing_stacked_blocks *out);

/**
 * The two stacks of fewest blocks whose difference is a height, for heights
 * below the smallest block. Arguments as dividing_block_stack.
 *
 * Errors: as dividing_block_stack. Threads: any.
 */
dividing_status dividing_block_difference(const struct dividing_block_set *set,
                                          double height_mm,
                                          uint32_t tolerance_units,
                                          uint64_t work_limit,
                                          dividing_watcher watcher,
                                          void *userdata,
                                          struct dividing_stacked_blocks *out);

/**
 * The angle of a sine bar on a height, in degrees; `height_mm` is 0 to
 * `length_mm`.
 *
 * Errors: NaN for a value outside the limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_sine_bar_angle_deg(double length_mm,
                                   double height_mm);

/**
 * The stack of fewest angle gauge blocks for an angle within a tolerance, both
 * in turns.
 *
 * `set` names a common set, "pieces13" or "pieces16", and ends with NUL, with
 * `blocks_arcsec` NULL and `count` 0; `set` may be NULL, and `blocks_arcsec` then
 * lists the blocks owned, `count` numbers of seconds of arc. The blocks used
 * come into two arrays of the caller of `capacity` numbers of seconds each,
 * ascending; 16 are enough for any stack of a common set. `work_limit`,
 * `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: inconsistent for a set and a list; out_of_range, duplicate,
 * invalid_field for an unknown set; not_found when no stack is so near;
 * buffer_too_small; work_limit, cancelled; null_pointer, invalid_utf8,
 * misaligned. Threads: any.
 */
dividing_status dividing_angle_block_stack(const char *set,
                                           const uint32_t *blocks_arcsec,
                                           size_t count,
                                           struct dividing_fraction angle,
                                           struct dividing_fraction tolerance,
                                           uint64_t work_limit,
                                           dividing_watcher watcher,
                                           void *userdata,
                                           size_t capacity,
                                           uint32_t *plus_arcsec,
                                           uint32_t *minus_arcsec,
                                           struct dividing_stacked_angle_blocks *out);

/**
 * The limits of a class such as "H7" or "g6" on a nominal size in millimetres,
 * above 0 to 500. `class_name` ends with NUL.
 *
 * Errors: unreadable_text; out_of_range for a size or grade without a limit;
 * null_pointer, invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_tolerance_class_limits(const char *class_name,
                                                double nominal_mm,
                                                struct dividing_size_limits *out);

/**
 * A fit as written on drawings: "6 H7/g6", "6 mm H7/g6", "0.25 in H7/g6".
 *
 * `text` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: unreadable_text; inconsistent unless a hole and then a shaft is
 * named; out_of_range; null_pointer, invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_fit_parse(const char *text,
                                   size_t length,
                                   struct dividing_fit *out);

/**
 * A fit of two classes, such as "H7" and "g6", on a nominal size in
 * millimetres, above 0 to 500. Both texts end with NUL.
 *
 * Errors: as dividing_fit_parse. Threads: any.
 */
dividing_status dividing_fit_of(const char *hole_class,
                                const char *pin_class,
                                double nominal_mm,
                                struct dividing_fit *out);

/**
 * Designs the plate with the fewest holes for a brief, a JSON document with
 * `"format": 1`.
 *
 * `brief` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; when
 * they stop the search, the best plate found is marked incomplete in its
 * certificate. A brief that no plate fits is no error: ask dividing_design_fits.
 *
 * Errors: malformed_json, unknown_field, invalid_field, unknown_format,
 * out_of_range, empty_list, duplicate, inconsistent, with the path to the
 * field; work_limit and cancelled when nothing was found yet; null_pointer,
 * invalid_utf8, misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_design_free. Threads: any.
 */
dividing_status dividing_design_new(const char *brief,
                                    size_t length,
                                    uint64_t work_limit,
                                    dividing_watcher watcher,
                                    void *userdata,
                                    struct dividing_design **out);

/**
 * As dividing_design_new, from the usual fields of a brief.
 *
 * Errors, ownership and threads as dividing_design_new.
 */
dividing_status dividing_design_of(const struct dividing_plate_brief *brief,
                                   uint64_t work_limit,
                                   dividing_watcher watcher,
                                   void *userdata,
                                   struct dividing_design **out);

/**
 * Frees a design. Patterns taken from it stay as they are.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_design_free(struct dividing_design *design);

/**
 * Whether a plate serves every wish of the brief.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_design_fits(const struct dividing_design *design,
                                     bool *out);

/**
 * What would fit, where no plate does.
 *
 * Errors: not_found when a plate fits; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_design_shortfall(const struct dividing_design *design,
                                          struct dividing_plate_shortfall *out);

/**
 * Why no plate fits, and what would, as a sentence.
 *
 * Errors: not_found when a plate fits; null_pointer, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_design_shortfall_text(const struct dividing_design *design,
                                               char **out);

/**
 * The plate of a design, as a pattern of its own.
 *
 * Errors: inconsistent with the sentence of dividing_design_shortfall_text when
 * no plate fits; null_pointer, misaligned. Ownership: `*out` is the caller's,
 * freed with dividing_pattern_free. Threads: any.
 */
dividing_status dividing_design_pattern(const struct dividing_design *design,
                                        struct dividing_pattern **out);

/**
 * The design as JSON: the pattern, or the shortfall with every field.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_design_json(const struct dividing_design *design,
                                     char **out);

/**
 * A pattern from its JSON document; its holes are checked anew.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: as dividing_design_new. Ownership: `*out` is the caller's, freed with
 * dividing_pattern_free. Threads: any.
 */
dividing_status dividing_pattern_from_json(const char *json,
                                           size_t length,
                                           struct dividing_pattern **out);

/**
 * Frees a pattern.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_pattern_free(struct dividing_pattern *pattern);

/**
 * The pattern as a JSON document, as dividing_pattern_from_json reads it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_pattern_json(const struct dividing_pattern *pattern,
                                      char **out);

/**
 * The certificate of a pattern.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_certificate(const struct dividing_pattern *pattern,
                                             struct dividing_certificate *out);

/**
 * Webs and edge distances of a pattern, from every pair of its holes.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_check(const struct dividing_pattern *pattern,
                                       struct dividing_hole_check *out);

/**
 * How many rings a pattern has.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_ring_count(const struct dividing_pattern *pattern,
                                            size_t *out);

/**
 * One ring, counted from 0 from the outside.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_ring(const struct dividing_pattern *pattern,
                                      size_t index,
                                      struct dividing_ring *out);

/**
 * How many holes a pattern has, stations not counted.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_hole_count(const struct dividing_pattern *pattern,
                                            size_t *out);

/**
 * How many stations the fixed plate of a vernier pair has; 0 for other plates.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_station_count(const struct dividing_pattern *pattern,
                                               size_t *out);

/**
 * All holes, ring by ring from the outside, into the caller's arrays;
 * dividing_pattern_hole_count says how many there are.
 *
 * Errors: buffer_too_small; overflow for an angle beyond 64-bit numbers;
 * null_pointer, misaligned; on any of them no array is touched. Threads: any.
 */
dividing_status dividing_pattern_holes(const struct dividing_pattern *pattern,
                                       const struct dividing_hole_places *places);

/**
 * The angles of the stations of a vernier pair in turns, into the caller's
 * array of `capacity` fractions.
 *
 * Errors: buffer_too_small, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pattern_stations(const struct dividing_pattern *pattern,
                                          struct dividing_fraction *turns,
                                          size_t capacity);

/**
 * The table of holes as comma-separated values: a heading, then a line a hole.
 *
 * Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_pattern_csv(const struct dividing_pattern *pattern,
                                     struct dividing_hole_table options,
                                     char **out);

/**
 * The table of holes as JSON: labels, exact angles, coordinates as printed and
 * what their rounding does.
 *
 * Errors, ownership and threads as dividing_pattern_csv.
 */
dividing_status dividing_pattern_hole_table_json(const struct dividing_pattern *pattern,
                                                 struct dividing_hole_table options,
                                                 char **out);

/**
 * What to measure on the finished plate, as JSON: chords over pins between
 * neighbours, across circles and between rings.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_pattern_check_dimensions_json(const struct dividing_pattern *pattern,
                                                       char **out);

/**
 * The drawing of the plate as SVG.
 *
 * Errors, ownership and threads as dividing_pattern_check_dimensions_json.
 */
dividing_status dividing_pattern_svg(const struct dividing_pattern *pattern,
                                     char **out);

/**
 * The drawing of the plate as DXF, in millimetres, or in inches with `inches`
 * 1.
 *
 * Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_pattern_dxf(const struct dividing_pattern *pattern,
                                     int32_t inches,
                                     char **out);

/**
 * The drill program of the plate (ISO 6983). Read it before it runs: the
 * machine maker's instructions stand above it.
 *
 * Errors: out_of_range, not_finite, null_pointer, misaligned. Ownership: `*out`
 * is the caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_pattern_drill_program(const struct dividing_pattern *pattern,
                                               const struct dividing_drilling *drilling,
                                               char **out);

/**
 * A new workshop: another one and the plate, as equipment of this name; a
 * polygon gives its faces too. `name` ends with NUL; `workshop` may be NULL for
 * a workshop of the plate alone.
 *
 * Errors: duplicate for a name that is taken; inconsistent for a plate without
 * holes; out_of_range, null_pointer, invalid_utf8, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_workshop_free; the workshop given
 * stays as it is. Threads: any.
 */
dividing_status dividing_pattern_into_workshop(const struct dividing_pattern *pattern,
                                               const char *name,
                                               const struct dividing_workshop *workshop,
                                               struct dividing_workshop **out);

/**
 * The error model of a plan, counted from 0.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: not_found, overflow, work_limit, cancelled, null_pointer, misaligned.
 * Ownership: `*out` is the caller's, freed with dividing_error_model_free; the
 * plans may be freed before it. Threads: any.
 */
dividing_status dividing_error_model_new(const struct dividing_plans *plans,
                                         size_t plan,
                                         uint64_t work_limit,
                                         dividing_watcher watcher,
                                         void *userdata,
                                         struct dividing_error_model **out);

/**
 * Frees an error model.
 *
 * Ownership: the handle and its texts are gone; to free or use it again is an
 * error of the caller, seen (not_a_handle) only while its memory is not used
 * for something else. NULL is accepted and does nothing. Threads: any, while
 * no other thread uses the handle.
 */
void dividing_error_model_free(struct dividing_error_model *model);

/**
 * How many features an error model has.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_error_model_count(const struct dividing_error_model *model,
                                           size_t *out);

/**
 * One feature, counted from 0 in the order of the job.
 *
 * Errors: not_found, overflow, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_error_model_feature(const struct dividing_error_model *model,
                                             size_t feature,
                                             struct dividing_modelled_feature *out);

/**
 * One contributor to a feature, both counted from 0.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the name belongs to
 * the handle and is valid until it is freed. Threads: any.
 */
dividing_status dividing_error_model_contributor(const struct dividing_error_model *model,
                                                 size_t feature,
                                                 size_t index,
                                                 struct dividing_contributor *out);

/**
 * What the workshop does not say and the figures leave out, one a line; empty
 * when they are complete.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_error_model_unknown(const struct dividing_error_model *model,
                                             char **out);

/**
 * The uncertainty budget of a feature, in seconds of arc.
 *
 * `coverage` is a dividing_coverage, `value` its probability or factor.
 *
 * Errors: not_found; undetermined when the workshop says nothing of how the
 * equipment registers; out_of_range, null_pointer, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_budget_free. Threads: any.
 */
dividing_status dividing_error_model_budget(const struct dividing_error_model *model,
                                            size_t feature,
                                            int32_t coverage,
                                            double value,
                                            struct dividing_budget **out);

/**
 * The simulation of all features of the plan.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_simulation_free. Threads: any.
 */
dividing_status dividing_error_model_simulation(const struct dividing_error_model *model,
                                                struct dividing_simulation **out);

/**
 * Whether a feature conforms to the tolerance of its job.
 *
 * `guard_band` is the width of the guard band over the expanded uncertainty, 1
 * by ISO 14253-1; below 0 it stands for simple acceptance. `coverage` is a
 * dividing_coverage, `value` its probability or factor.
 *
 * Errors: not_found; undetermined without a limit of angle or of contributors;
 * out_of_range, not_finite, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_error_model_conformance(const struct dividing_error_model *model,
                                                 size_t feature,
                                                 double guard_band,
                                                 int32_t coverage,
                                                 double value,
                                                 struct dividing_conformance *out);

/**
 * What would hold the tolerance of the job, in all: the least pitch radius or
 * baseline. `criterion` is a dividing_criterion, `coverage_factor` that of an
 * expanded uncertainty.
 *
 * Errors: undetermined without a limit of a feature's angle or without
 * contributors; out_of_range, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_error_model_trade_off(const struct dividing_error_model *model,
                                               int32_t criterion,
                                               double coverage_factor,
                                               struct dividing_trade_off *out);

/**
 * How large one input may be when nothing else changes, by its name, which ends
 * with NUL: "hole position". Hole positions and clearances count as diameters,
 * as they are toleranced.
 *
 * Errors: as dividing_error_model_trade_off, and not_found for a name that is
 * none of the inputs. Threads: any.
 */
dividing_status dividing_error_model_allowance(const struct dividing_error_model *model,
                                               int32_t criterion,
                                               double coverage_factor,
                                               const char *name,
                                               struct dividing_allowance *out);

/**
 * The whole table of trade-offs as JSON. Arguments as
 * dividing_error_model_trade_off.
 *
 * Errors: as dividing_error_model_trade_off. Ownership: `*out` is the caller's,
 * freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_error_model_trade_offs_json(const struct dividing_error_model *model,
                                                     int32_t criterion,
                                                     double coverage_factor,
                                                     char **out);

/**
 * Whether every piece of equipment was looked at in full; false when a limit of
 * work cut some short.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plans_complete(const struct dividing_plans *plans,
                                        bool *out);

/**
 * What was not looked at in full and why, a line for each piece of equipment;
 * empty when all was.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_cut_short_text(const struct dividing_plans *plans,
                                              char **out);

/**
 * Where the error of a plan, counted from 0, comes from, and what it would
 * bear: the budget of its worst feature and the table of trade-offs, as text in
 * lines ending with a newline.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: not_found; undetermined when the workshop says nothing of how the
 * equipment registers; out_of_range, overflow, work_limit, cancelled,
 * null_pointer, misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_error_report_text(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 const struct dividing_error_report_terms *terms,
                                                 uint64_t work_limit,
                                                 dividing_watcher watcher,
                                                 void *userdata,
                                                 char **out);

/**
 * As dividing_plans_error_report_text, as an HTML fragment, every text escaped.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: as dividing_plans_error_report_text. Ownership: `*out` is the caller's,
 * freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_error_report_html(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 const struct dividing_error_report_terms *terms,
                                                 uint64_t work_limit,
                                                 dividing_watcher watcher,
                                                 void *userdata,
                                                 char **out);

/**
 * As dividing_plans_error_report_text, as JSON.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: as dividing_plans_error_report_text. Ownership: `*out` is the caller's,
 * freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_error_report_json(const struct dividing_plans *plans,
                                                 size_t plan,
                                                 const struct dividing_error_report_terms *terms,
                                                 uint64_t work_limit,
                                                 dividing_watcher watcher,
                                                 void *userdata,
                                                 char **out);

/**
 * A picture of the limits of a plan's deviations round the circle, as SVG; the
 * plan is counted from 0.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_plans_deviation_svg(const struct dividing_plans *plans,
                                             size_t plan,
                                             char **out);

/**
 * The budget of contributors to one angle, in seconds of arc.
 *
 * `quantity` says what the result is and ends with NUL; `estimate_rad` is its
 * value in radians; `contributors` holds `count` records. `coverage` is a
 * dividing_coverage, `value` its probability or factor.
 *
 * Errors: empty_list, out_of_range, not_finite, with the path to the field;
 * null_pointer, invalid_utf8, misaligned. Ownership: `*out` is the caller's,
 * freed with dividing_budget_free. Threads: any.
 */
dividing_status dividing_budget_new(const char *quantity,
                                    double estimate_rad,
                                    const struct dividing_contributor *contributors,
                                    size_t count,
                                    int32_t coverage,
                                    double value,
                                    struct dividing_budget **out);

/**
 * The budget of an uncertainty model in JSON: quantity, unit, estimate, inputs
 * with standard uncertainties, sensitivities and degrees of freedom,
 * correlations, second-order terms, coverage.
 *
 * `model` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: malformed_json, unknown_field, invalid_field, out_of_range,
 * not_finite, duplicate, not_found, inconsistent; null_pointer, invalid_utf8, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_budget_free. Threads: any.
 */
dividing_status dividing_budget_of_model(const char *model,
                                         size_t length,
                                         struct dividing_budget **out);

/**
 * Frees a budget.
 *
 * Ownership: the handle and its texts are gone; to free or use it again is an
 * error of the caller, seen (not_a_handle) only while its memory is not used
 * for something else. NULL is accepted and does nothing. Threads: any, while
 * no other thread uses the handle.
 */
void dividing_budget_free(struct dividing_budget *budget);

/**
 * The result of a budget.
 *
 * Errors: null_pointer, misaligned. Ownership: the texts in `*out` belong to
 * the handle. Threads: any.
 */
dividing_status dividing_budget_result(const struct dividing_budget *budget,
                                       struct dividing_budget_figures *out);

/**
 * One line of a budget, counted from 0.
 *
 * Errors: not_found, null_pointer, misaligned. Ownership: the texts in `*out`
 * belong to the handle. Threads: any.
 */
dividing_status dividing_budget_line(const struct dividing_budget *budget,
                                     size_t index,
                                     struct dividing_budget_entry *out);

/**
 * The budget as a plain table of text.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_budget_text(const struct dividing_budget *budget,
                                     char **out);

/**
 * The budget as an HTML fragment, every text escaped.
 *
 * Errors, ownership and threads as dividing_budget_text.
 */
dividing_status dividing_budget_html(const struct dividing_budget *budget,
                                     char **out);

/**
 * The budget with every field as JSON.
 *
 * Errors, ownership and threads as dividing_budget_text.
 */
dividing_status dividing_budget_json(const struct dividing_budget *budget,
                                     char **out);

/**
 * A simulation from JSON: features with their inputs, eccentricities, datum,
 * referencing, limits.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: malformed_json, unknown_field, invalid_field, with the path to the
 * field; null_pointer, invalid_utf8, misaligned; what does not make sense is
 * refused when it runs. Ownership:
 * `*out` is the caller's, freed with dividing_simulation_free. Threads: any.
 */
dividing_status dividing_simulation_from_json(const char *json,
                                              size_t length,
                                              struct dividing_simulation **out);

/**
 * The simulation as JSON, as dividing_simulation_from_json reads it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_simulation_json(const struct dividing_simulation *simulation,
                                         char **out);

/**
 * Frees a simulation.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_simulation_free(struct dividing_simulation *simulation);

/**
 * Runs a simulation; `settings` may be NULL.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; the
 * watcher is called on this thread.
 *
 * Errors: out_of_range, not_finite, empty_list, with the path to the field;
 * work_limit, cancelled; null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_simulation_report_free. Threads: any; it starts
 * those that it was asked to and waits for them.
 */
dividing_status dividing_simulation_run(const struct dividing_simulation *simulation,
                                        const struct dividing_run *settings,
                                        uint64_t work_limit,
                                        dividing_watcher watcher,
                                        void *userdata,
                                        struct dividing_simulation_report **out);

/**
 * Frees a report.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_simulation_report_free(struct dividing_simulation_report *report);

/**
 * Trials, stability and conformance of a report.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_simulation_report_get(const struct dividing_simulation_report *report,
                                               struct dividing_simulation_summary *out);

/**
 * One quantity of a report: `quantity` is a dividing_quantity; `feature`, counted
 * from 0 round the part, is looked at for that of a feature alone.
 *
 * Errors: not_found for what was not worked out; out_of_range, null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_simulation_report_quantity(const struct dividing_simulation_report *report,
                                                    int32_t quantity,
                                                    size_t feature,
                                                    struct dividing_quantity_figures *out);

/**
 * The quantiles of one quantity in radians, in the order asked for, into the
 * caller's array of `capacity` numbers. Other arguments as
 * dividing_simulation_report_quantity.
 *
 * Errors: its errors and buffer_too_small. Threads: any.
 */
dividing_status dividing_simulation_report_quantiles(const struct dividing_simulation_report *report,
                                                     int32_t quantity,
                                                     size_t feature,
                                                     double *quantiles_rad,
                                                     size_t capacity);

/**
 * The deviations of all features, round the part, into the caller's arrays.
 *
 * Errors: buffer_too_small, null_pointer, misaligned; on any of them no array
 * is touched. Threads: any.
 */
dividing_status dividing_simulation_report_features(const struct dividing_simulation_report *report,
                                                    const struct dividing_feature_places *places);

/**
 * The report with every field as JSON.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_simulation_report_json(const struct dividing_simulation_report *report,
                                                char **out);

/**
 * A picture of the features' deviations with their intervals as SVG; `title`
 * ends with NUL.
 *
 * Errors: null_pointer, invalid_utf8, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_simulation_report_svg(const struct dividing_simulation_report *report,
                                               const char *title,
                                               char **out);

/**
 * What a criterion gives for contributors, in radians.
 *
 * `contributors` holds `count` records. `criterion` is a
 * dividing_criterion, `coverage_factor` that of an expanded uncertainty.
 *
 * Errors: out_of_range, not_finite, with the path to the field; null_pointer,
 * invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_total_rad(const struct dividing_contributor *contributors,
                                   size_t count,
                                   int32_t criterion,
                                   double coverage_factor,
                                   double *out);

/**
 * The largest limit of the contributors of one name that keeps a criterion
 * within `limit_rad` while all others stay as they are. `name` ends with NUL;
 * the other arguments as dividing_total_rad.
 *
 * Errors: as dividing_total_rad; not_found when no contributor has the name.
 * Threads: any.
 */
dividing_status dividing_loosest_limit(const struct dividing_contributor *contributors,
                                       size_t count,
                                       const char *name,
                                       int32_t criterion,
                                       double coverage_factor,
                                       double limit_rad,
                                       struct dividing_allowance *out);

/**
 * The least radius or baseline, in millimetres, that keeps a criterion within
 * `limit_rad`, when all contributors in millimetres act over `present_mm` now.
 * The other arguments as dividing_total_rad.
 *
 * Errors: as dividing_total_rad; undetermined when no radius is enough, because
 * the others alone break the limit; overflow. Threads: any.
 */
dividing_status dividing_least_radius_mm(const struct dividing_contributor *contributors,
                                         size_t count,
                                         double present_mm,
                                         int32_t criterion,
                                         double coverage_factor,
                                         double limit_rad,
                                         double *out);

/**
 * What is left of angular errors behind a gear ratio, above 0, into the
 * caller's array of `capacity` records, one for each of the `count`
 * contributors: sensitivities over the ratio, and once drilled every error
 * stays with its hole.
 *
 * Errors: out_of_range, not_finite, with the path to the field;
 * buffer_too_small; null_pointer, invalid_utf8, misaligned; on any of them no
 * record is touched. Ownership: names and samples of `carried` are those of
 * `contributors` and stay the caller's. Threads: any.
 */
dividing_status dividing_carried(const struct dividing_contributor *contributors,
                                 size_t count,
                                 double ratio,
                                 struct dividing_contributor *carried,
                                 size_t capacity);

/**
 * What turns a hole that was drilled by coordinates at `radius_mm`, above 0,
 * and `angle_rad` from X, in radians: one contributor of the table's X axis
 * into `x_axis`, one of its Y axis into `y_axis`. `table_accuracy_mm`, 0 or
 * more, is the largest deviation of either axis either way, in millimetres.
 *
 * Errors: out_of_range, not_finite, null_pointer, misaligned. Ownership: the
 * names belong to the library. Threads: any.
 */
dividing_status dividing_drilled_by_coordinates_errors(double table_accuracy_mm,
                                                       double radius_mm,
                                                       double angle_rad,
                                                       struct dividing_contributor *x_axis,
                                                       struct dividing_contributor *y_axis);

/**
 * Diameter of the position zone, in millimetres, that the worst angular error
 * of `count` contributors fills at `radius_mm`, above 0: what to write into a
 * workshop as the `hole_position_tolerance` of a plate.
 *
 * Errors: out_of_range, not_finite, with the path to the field; overflow;
 * null_pointer, invalid_utf8, misaligned. Threads: any.
 */
dividing_status dividing_position_zone_mm(const struct dividing_contributor *contributors,
                                          size_t count,
                                          double radius_mm,
                                          double *out);

/**
 * Every span of pins of a pin plate, the best first, into the caller's array of
 * `capacity` records; `out` takes how many. There are at most half as many as
 * the places of all its rings. `criterion` is a dividing_criterion,
 * `coverage_factor` that of an expanded uncertainty.
 *
 * Errors: inconsistent for other equipment; undetermined without the sizes of
 * pins and holes; out_of_range; buffer_too_small, whose message says how many;
 * null_pointer, misaligned; on any of them nothing is touched. Threads: any.
 */
dividing_status dividing_equipment_best_pin_pairs(const struct dividing_equipment *equipment,
                                                  int32_t criterion,
                                                  double coverage_factor,
                                                  struct dividing_pin_pair *pairs,
                                                  size_t capacity,
                                                  size_t *out);

/**
 * The control-chart constants d2 and d3 of so many values, 2 to 100000: what
 * the cumulative pitch deviation of as many places comes to, in standard
 * deviations of one place.
 *
 * Errors: out_of_range, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_range_constants(uint32_t places,
                                         struct dividing_range *out);

/**
 * Width of the guard band at one limit, in standard uncertainties, that leaves
 * a value on the acceptance limit conforming with the probability
 * `conformance`, 0.5 to below 1 (JCGM 106:2012, 8.3.2).
 *
 * Errors: out_of_range, not_finite, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_guard_band_factor(double conformance,
                                           double *out);

/**
 * Diameter of the smallest position zone, in millimetres, that holds a feature
 * at `radius_mm`, 0 or more, turned by `deviation_rad`, in radians, and set out
 * by `radial_mm`.
 *
 * Errors: out_of_range, not_finite, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_position_diameter_mm(double radius_mm,
                                              double deviation_rad,
                                              double radial_mm,
                                              double *out);

/**
 * The worst case of a plunger in radians, for every row, into the caller's
 * array of `capacity` numbers: all limits added over the pitch radius.
 *
 * Errors: empty_list for a column without a number; inconsistent for columns
 * of different lengths; out_of_range, not_finite, with the path to the field;
 * buffer_too_small, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plunger_worst_case_rad(const struct dividing_plungers *columns,
                                                double *worst_rad,
                                                size_t capacity);

/**
 * The standard uncertainty of a plunger in radians, for every row: points
 * uniform in discs, an eccentricity at a random phase.
 *
 * Arguments, errors and threads as dividing_plunger_worst_case_rad.
 */
dividing_status dividing_plunger_standard_uncertainty_rad(const struct dividing_plungers *columns,
                                                          double *uncertainty_rad,
                                                          size_t capacity);

/**
 * The largest clearance, in millimetres, that keeps the worst case within
 * `limit_rad`, for every row; NaN where none does. The clearance given is not
 * looked at.
 *
 * Arguments, errors and threads as dividing_plunger_worst_case_rad.
 */
dividing_status dividing_plunger_loosest_clearance_mm(const struct dividing_plungers *columns,
                                                      double limit_rad,
                                                      double *clearance_mm,
                                                      size_t capacity);

/**
 * The least pitch radius, in millimetres, that keeps the worst case within
 * `limit_rad`, for every row. The radius given is not looked at.
 *
 * Arguments, errors and threads as dividing_plunger_worst_case_rad.
 */
dividing_status dividing_plunger_least_pitch_radius_mm(const struct dividing_plungers *columns,
                                                       double limit_rad,
                                                       double *radius_mm,
                                                       size_t capacity);

/**
 * The worst case of a bar on pins in radians, for every row; `loose` is 1 for
 * pins that lie at the bottom of their holes, 0 for pins fixed in them.
 *
 * The other arguments, errors and threads as dividing_plunger_worst_case_rad.
 */
dividing_status dividing_bar_worst_case_rad(const struct dividing_bars *columns,
                                            int32_t loose,
                                            double *worst_rad,
                                            size_t capacity);

/**
 * The least baseline, in millimetres, that keeps the worst case of loose pins
 * within `limit_rad`, for every row. The baseline given is not looked at.
 *
 * The other arguments, errors and threads as dividing_plunger_worst_case_rad.
 */
dividing_status dividing_bar_least_baseline_mm(const struct dividing_bars *columns,
                                               double limit_rad,
                                               double *baseline_mm,
                                               size_t capacity);

/**
 * How far a pin at one radius can turn in a hole at another, either way.
 *
 * Radii are above 0, `clearance_mm`, hole less pin, 0 or more.
 *
 * Errors: inconsistent when the pin does not enter; out_of_range, not_finite,
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pin_play(double pin_radius_mm,
                                  double hole_radius_mm,
                                  double clearance_mm,
                                  struct dividing_modelled_angle *out);

/**
 * What the eccentricity of a plate does to one hole: `phase_rad` is the angle
 * of the hole from the direction of the eccentricity, in radians.
 *
 * Errors: inconsistent when the eccentricity reaches the hole; out_of_range,
 * not_finite, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_eccentricity_error(double hole_radius_mm,
                                            double eccentricity_mm,
                                            double phase_rad,
                                            struct dividing_modelled_angle *out);

/**
 * The largest change of the angle between two holes of one circle that stand
 * `apart_rad` apart, in radians, by an eccentricity, 0 or more and below
 * `hole_radius_mm`, whose direction is not known.
 *
 * Errors: undetermined when the eccentricity reaches the radius; out_of_range,
 * not_finite, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_eccentricity_between(double hole_radius_mm,
                                              double eccentricity_mm,
                                              double apart_rad,
                                              struct dividing_modelled_angle *out);

/**
 * How far a bar on two pins tilts from the line of their holes: `loose` is 1
 * for pins that lie at the bottom of their holes, 0 for pins fixed in them.
 *
 * Errors: out_of_range, not_finite, inconsistent, with the path to the field;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_bar_tilt(struct dividing_bar_support first,
                                  struct dividing_bar_support second,
                                  int32_t loose,
                                  struct dividing_modelled_angle *out);

/**
 * Whether a pin enters its hole, at worst and how likely.
 *
 * Errors: out_of_range, not_finite, inconsistent, with the path to the field;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_pin_entry(const struct dividing_entry *entry,
                                   struct dividing_entry_finding *out);

/**
 * Fits a circle by least squares of the distances (geometric fit) to `count`
 * points, 3 to 10000, in millimetres.
 *
 * `x_uncertainty_mm` and `y_uncertainty_mm` are standard uncertainties of the
 * points, above 0; `x_uncertainty_mm` and `y_uncertainty_mm` may be NULL
 * together. The residuals, distance from the centre less
 * the radius in the order of the points, come into the caller's array of
 * `count` numbers; `residuals_mm` may be NULL.
 *
 * Errors: undetermined for fewer than three points or points on a line;
 * not_finite, out_of_range; inconsistent for one uncertainty without the other;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_fit_circle(const double *x_mm,
                                    const double *y_mm,
                                    const double *x_uncertainty_mm,
                                    const double *y_uncertainty_mm,
                                    size_t count,
                                    double *residuals_mm,
                                    struct dividing_circle *out);

/**
 * Measured hole centres, `count` of them, in millimetres.
 *
 * `places` numbers them from 0; `places` may be NULL for 0, 1, 2 and on.
 * `x_uncertainty_mm` and `y_uncertainty_mm` are standard uncertainties of the
 * points, in place of the common one; `x_uncertainty_mm` and
 * `y_uncertainty_mm` may be NULL together.
 *
 * Errors: inconsistent for one uncertainty without the other, not_finite,
 * out_of_range, null_pointer, invalid_utf8, misaligned; what the readings lack
 * is said when they are inspected. Ownership: `*out` is the caller's, freed
 * with dividing_measurement_free; nothing that comes in is kept. Threads: any.
 */
dividing_status dividing_measurement_points(const struct dividing_ring_readings *ring,
                                            const size_t *places,
                                            const double *x_mm,
                                            const double *y_mm,
                                            const double *x_uncertainty_mm,
                                            const double *y_uncertainty_mm,
                                            size_t count,
                                            struct dividing_measurement **out);

/**
 * The directions of `count` measured points about an axis, in turns, into the
 * caller's array of `capacity` fractions, in the order given: what
 * dividing_measurement_stations takes when a body was measured by coordinates.
 * All lengths are in millimetres; a direction is rounded to a millionth of a
 * second of arc.
 *
 * Errors: inconsistent for a point on the axis, not_finite, out_of_range,
 * buffer_too_small, null_pointer, misaligned; on any of them no fraction is
 * touched. Threads: any.
 */
dividing_status dividing_angles_about_axis(const double *x_mm,
                                           const double *y_mm,
                                           size_t count,
                                           double axis_x_mm,
                                           double axis_y_mm,
                                           struct dividing_fraction *turns,
                                           size_t capacity);

/**
 * Measured angles in turns, `count` of them; their common zero does not matter.
 *
 * `places` as dividing_measurement_points.
 *
 * Errors, ownership and threads as dividing_measurement_points.
 */
dividing_status dividing_measurement_angles(const struct dividing_ring_readings *ring,
                                            const size_t *places,
                                            const struct dividing_fraction *turns,
                                            size_t count,
                                            struct dividing_measurement **out);

/**
 * Measured deviations in seconds of arc, `count` of them; their common zero
 * does not matter.
 *
 * `places` as dividing_measurement_points.
 *
 * Errors, ownership and threads as dividing_measurement_points.
 */
dividing_status dividing_measurement_deviations(const struct dividing_ring_readings *ring,
                                                const size_t *places,
                                                const double *deviation_arcsec,
                                                size_t count,
                                                struct dividing_measurement **out);

/**
 * Measured chords over pins in millimetres, one from every place.
 *
 * `places` as dividing_measurement_points.
 *
 * Errors, ownership and threads as dividing_measurement_points.
 */
dividing_status dividing_measurement_chords(const struct dividing_ring_readings *ring,
                                            const size_t *places,
                                            const double *over_pins_mm,
                                            size_t count,
                                            struct dividing_measurement **out);

/**
 * Measured angles of the stations of a vernier indexer, which may stand
 * anywhere.
 *
 * `stations` says where all `station_count` of them should stand, in turns, as
 * the indexer lists them, 2 to 1000. `turns` holds `count` readings in turns,
 * whose common zero does not matter; `places` numbers the stations read, from 0,
 * and may be NULL for 0, 1, 2 and on. Of `ring` the name, the numbering and the
 * uncertainty (seconds of arc) are looked at.
 *
 * Errors, ownership and threads as dividing_measurement_points.
 */
dividing_status dividing_measurement_stations(const struct dividing_ring_readings *ring,
                                              const struct dividing_fraction *stations,
                                              size_t station_count,
                                              const size_t *places,
                                              const struct dividing_fraction *turns,
                                              size_t count,
                                              struct dividing_measurement **out);

/**
 * Comparisons of two dividing devices: `setup_count` set-ups, in set-up s
 * position `shifts[s]` of the second device against position 0 of the first.
 *
 * `readings_arcsec` holds the readings in seconds of arc, set-up by set-up,
 * `ring->places` of each, `reading_count` in all; NaN where there is none.
 *
 * Errors: inconsistent for another count, and those of
 * dividing_measurement_points. Ownership and threads as
 * dividing_measurement_points.
 */
dividing_status dividing_measurement_closure(const struct dividing_ring_readings *ring,
                                             const size_t *shifts,
                                             size_t setup_count,
                                             const double *readings_arcsec,
                                             size_t reading_count,
                                             struct dividing_measurement **out);

/**
 * Readings from comma-separated text whose first line names the columns.
 *
 * `readings` is a dividing_readings; `csv` is UTF-8 of `length` bytes, or up to
 * its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: the field of the last error names line and column, `line 4, column
 * x_mm`; invalid_field, unknown_field, inconsistent, duplicate, not_finite,
 * out_of_range, empty_list; null_pointer, invalid_utf8, misaligned. Ownership:
 * as dividing_measurement_points. Threads: any.
 */
dividing_status dividing_measurement_from_csv(const struct dividing_ring_readings *ring,
                                              int32_t readings,
                                              const char *csv,
                                              size_t length,
                                              struct dividing_measurement **out);

/**
 * A measurement from a JSON document with `"format": 1`.
 *
 * `json` is UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: malformed_json, unknown_field, invalid_field, unknown_format,
 * null_pointer, invalid_utf8, misaligned. Ownership: as
 * dividing_measurement_points. Threads: any.
 */
dividing_status dividing_measurement_from_json(const char *json,
                                               size_t length,
                                               struct dividing_measurement **out);

/**
 * Frees a measurement. Inspections made from it stay as they are.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_measurement_free(struct dividing_measurement *measurement);

/**
 * The measurement as a JSON document, as dividing_measurement_from_json reads
 * it.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_measurement_json(const struct dividing_measurement *measurement,
                                          char **out);

/**
 * Inspects a measurement.
 *
 * `work_limit`, `watcher` and `userdata` as dividing_plans_new_within; closure
 * calibrations can be long.
 *
 * Errors: undetermined where the readings cannot tell, with what to add;
 * duplicate, out_of_range, not_finite, inconsistent, empty_list, with the path
 * to the field; work_limit, cancelled; null_pointer, misaligned. Ownership:
 * `*out` is the caller's, freed with dividing_inspection_free; the measurement
 * may be freed before it. Threads: any.
 */
dividing_status dividing_inspection_new(const struct dividing_measurement *measurement,
                                        uint64_t work_limit,
                                        dividing_watcher watcher,
                                        void *userdata,
                                        struct dividing_inspection **out);

/**
 * Frees an inspection.
 *
 * Ownership: the handle is gone; to free or use it again is an error of the
 * caller, seen (not_a_handle) only while its memory is not used for something
 * else. NULL is accepted and does nothing. Threads: any, while no other thread
 * uses the handle.
 */
void dividing_inspection_free(struct dividing_inspection *inspection);

/**
 * What the inspection is of.
 *
 * Errors: null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_inspection_kind(const struct dividing_inspection *inspection,
                                         dividing_inspected *out);

/**
 * The circle fitted to hole centres.
 *
 * Errors: inconsistent for another inspection, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_inspection_circle(const struct dividing_inspection *inspection,
                                           struct dividing_circle *out);

/**
 * How far the centre of the fitted circle lies from the axis.
 *
 * Errors: inconsistent for another inspection; not_found when no axis was
 * given; null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_inspection_eccentricity(const struct dividing_inspection *inspection,
                                                 struct dividing_eccentricity *out);

/**
 * The deviations of the places at a glance; `about` is a dividing_about.
 *
 * Errors: inconsistent for stations and for two devices compared; out_of_range, null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_inspection_ring(const struct dividing_inspection *inspection,
                                         int32_t about,
                                         struct dividing_ring_figures *out);

/**
 * The deviations of all measured places, in ascending order, into the caller's
 * arrays; dividing_inspection_ring says how many. `about` is a dividing_about.
 *
 * Errors: inconsistent for stations and for two devices compared; buffer_too_small,
 * out_of_range, null_pointer, misaligned; on any of them no array is touched.
 * Threads: any.
 */
dividing_status dividing_inspection_deviations(const struct dividing_inspection *inspection,
                                               int32_t about,
                                               const struct dividing_deviation_places *places);

/**
 * The deviations of stations at a glance.
 *
 * Errors: inconsistent for another inspection, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_inspection_stations(const struct dividing_inspection *inspection,
                                             struct dividing_station_figures *out);

/**
 * The deviations of all measured stations, in ascending order, into the
 * caller's arrays; dividing_inspection_stations says how many. A place is the
 * number of a station; `rest_rad` gets NaN, as stations have no harmonics.
 *
 * Errors: inconsistent for another inspection; buffer_too_small, null_pointer,
 * misaligned; on any of them no array is touched. Threads: any.
 */
dividing_status dividing_inspection_station_deviations(const struct dividing_inspection *inspection,
                                                       const struct dividing_deviation_places *places);

/**
 * The pitch deviations of a ring, `without_first` 1 for those without the first
 * harmonic; `about` is a dividing_about.
 *
 * Into two arrays of the caller of `capacity` numbers, as many as there are
 * places: the single pitch from every place to the next (the last back to 0)
 * and the cumulative pitch from the first measured place, in radians, NaN where
 * a place was not measured. `single_rad` and `cumulative_rad` may be NULL. `out`
 * takes the extremes.
 *
 * Errors: inconsistent for stations and for two devices compared; buffer_too_small,
 * out_of_range, null_pointer, misaligned; on any of them no array is touched.
 * Threads: any.
 */
dividing_status dividing_inspection_pitch(const struct dividing_inspection *inspection,
                                          int32_t about,
                                          int32_t without_first,
                                          size_t capacity,
                                          double *single_rad,
                                          double *cumulative_rad,
                                          struct dividing_pitch *out);

/**
 * The harmonics of the deviations, from the first on, into two arrays of the
 * caller of `capacity` numbers each, in radians; dividing_inspection_ring says
 * how many. `about` is a dividing_about.
 *
 * Errors: inconsistent for stations and for two devices compared; buffer_too_small,
 * out_of_range, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_inspection_harmonics(const struct dividing_inspection *inspection,
                                              int32_t about,
                                              size_t capacity,
                                              double *amplitude_rad,
                                              double *phase_rad);

/**
 * The report of the inspection as plain text.
 *
 * Errors: null_pointer, misaligned. Ownership: `*out` is the caller's, freed
 * with dividing_text_free. Threads: any.
 */
dividing_status dividing_inspection_text(const struct dividing_inspection *inspection,
                                         char **out);

/**
 * The inspection with every field as JSON.
 *
 * Errors, ownership and threads as dividing_inspection_text.
 */
dividing_status dividing_inspection_json(const struct dividing_inspection *inspection,
                                         char **out);

/**
 * A picture of the deviations as SVG; `title` ends with NUL.
 *
 * Errors: inconsistent for stations and for two devices compared; null_pointer, invalid_utf8,
 * misaligned. Ownership: `*out` is the caller's, freed with dividing_text_free.
 * Threads: any.
 */
dividing_status dividing_inspection_svg(const struct dividing_inspection *inspection,
                                        const char *title,
                                        char **out);

/**
 * How well the readings of two compared devices agree.
 *
 * Errors: inconsistent for another inspection, null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_inspection_closure(const struct dividing_inspection *inspection,
                                            struct dividing_closure *out);

/**
 * The deviations of one device, a dividing_device, in radians, and their
 * standard uncertainties, NaN where they cannot be told, into two arrays of the
 * caller of `capacity` numbers each; `deviation_rad` and `uncertainty_rad` may
 * be NULL. The deviations sum to zero.
 *
 * Errors: inconsistent for another inspection; buffer_too_small, out_of_range,
 * null_pointer, misaligned; on any of them no array is touched. Threads: any.
 */
dividing_status dividing_inspection_device(const struct dividing_inspection *inspection,
                                           int32_t device,
                                           size_t capacity,
                                           double *deviation_rad,
                                           double *uncertainty_rad);

/**
 * The constant of every set-up in radians, into the caller's array of
 * `capacity` numbers.
 *
 * Errors: inconsistent for another inspection; buffer_too_small, null_pointer,
 * misaligned. Threads: any.
 */
dividing_status dividing_inspection_offsets(const struct dividing_inspection *inspection,
                                            double *offset_rad,
                                            size_t capacity);

/**
 * Plans a closure calibration of two devices of `positions` positions, 2 to
 * 21600: the set-ups that bring every division to the wanted standard
 * uncertainty, both uncertainties in radians, above 0.
 *
 * The shifts come, ascending, into the caller's array of `capacity` numbers; a
 * shift named twice is measured twice. `work_limit`, `watcher` and `userdata`
 * as dividing_plans_new_within.
 *
 * Errors: out_of_range, not_finite; undetermined when no plan within bounds is
 * enough; buffer_too_small, whose message says how many; work_limit, cancelled;
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_plan_shifts(size_t positions,
                                     double reading_uncertainty_rad,
                                     double wanted_uncertainty_rad,
                                     uint64_t work_limit,
                                     dividing_watcher watcher,
                                     void *userdata,
                                     size_t *shifts,
                                     size_t capacity,
                                     struct dividing_shift_plan *out);

/**
 * A new workshop in which one piece, counted from 0, knows what was measured of
 * it; plans then use its actual errors.
 *
 * `circle` is the hole circle that was measured, counted from 0; a vernier
 * indexer has one, and for a graduated dial and for measured stations it is not
 * looked at. `device` is a dividing_device, looked at for two compared devices
 * alone.
 *
 * Errors: not_found; inconsistent for equipment that keeps no measurement, or
 * another number of places than the circle has; out_of_range, null_pointer,
 * misaligned. Ownership: `*out` is the caller's, freed with
 * dividing_workshop_free; what is given stays as it is. Threads: any.
 */
dividing_status dividing_inspection_into_workshop(const struct dividing_inspection *inspection,
                                                  int32_t device,
                                                  const struct dividing_workshop *workshop,
                                                  size_t piece,
                                                  size_t circle,
                                                  struct dividing_workshop **out);

/**
 * What was measured, as the `measured` field of equipment in JSON, of stations the
 * `measured_stations` field; `device` as
 * dividing_inspection_into_workshop.
 *
 * Errors: out_of_range, null_pointer, misaligned. Ownership: `*out` is the
 * caller's, freed with dividing_text_free. Threads: any.
 */
dividing_status dividing_inspection_measured_json(const struct dividing_inspection *inspection,
                                                  int32_t device,
                                                  char **out);

/**
 * Chooses the start of a pattern that makes the worst deviation least.
 *
 * `pattern` holds the `count` places that the features take, the first start
 * being place 0. `from` is a dividing_reference; `coverage_factor` standard
 * uncertainties, 0 or more, are added to each deviation. `about` is a
 * dividing_about and `device` a dividing_device, each looked at where it has a
 * meaning. `work_limit`, `watcher` and `userdata` as dividing_plans_new_within.
 *
 * Errors: undetermined when no start meets measured places alone; empty_list,
 * out_of_range, duplicate; work_limit, cancelled; null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_inspection_choose_start(const struct dividing_inspection *inspection,
                                                 int32_t about,
                                                 int32_t device,
                                                 const size_t *pattern,
                                                 size_t count,
                                                 int32_t from,
                                                 double coverage_factor,
                                                 uint64_t work_limit,
                                                 dividing_watcher watcher,
                                                 void *userdata,
                                                 struct dividing_best_start *out);

/**
 * The corrections of all measured places into the caller's array of `capacity`
 * records; as many as places were measured. `graduation_rad` is one graduation
 * in radians; `about` and `device` as dividing_inspection_choose_start.
 *
 * Errors: out_of_range, buffer_too_small, null_pointer, misaligned. Threads:
 * any.
 */
dividing_status dividing_inspection_corrections(const struct dividing_inspection *inspection,
                                                int32_t about,
                                                int32_t device,
                                                double graduation_rad,
                                                struct dividing_correction *corrections,
                                                size_t capacity);

/**
 * Whether a measured part holds its limits.
 *
 * `guard_band` is the width of the guard band over the expanded uncertainty, 1
 * by ISO 14253-1; below 0 it stands for simple acceptance. `about` is a
 * dividing_about.
 *
 * Errors: inconsistent for stations and for two devices compared; out_of_range, not_finite,
 * not_found for a datum that was not measured; null_pointer, misaligned.
 * Threads: any.
 */
dividing_status dividing_inspection_check(const struct dividing_inspection *inspection,
                                          int32_t about,
                                          const struct dividing_ring_limits *limits,
                                          double guard_band,
                                          struct dividing_part_verdict *out);

/**
 * Every check of dividing_inspection_check, in the order of the places, into
 * the caller's array of `capacity` records.
 *
 * Errors: those of dividing_inspection_check and buffer_too_small. Threads: any.
 */
dividing_status dividing_inspection_checks(const struct dividing_inspection *inspection,
                                           int32_t about,
                                           const struct dividing_ring_limits *limits,
                                           double guard_band,
                                           struct dividing_check *checks,
                                           size_t capacity);

/**
 * Whether measured hole centres hold a position tolerance, whose zone has a
 * diameter in millimetres, above 0: twice the distance of each from its true
 * place, the pattern turned so that the worst is best.
 *
 * `measurement` is the one that was inspected; it says the nominal radius.
 * `guard_band` as dividing_inspection_check.
 *
 * Errors: inconsistent for another measurement than of hole centres, or one
 * that was not inspected or says no radius; out_of_range, not_finite,
 * null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_inspection_check_position(const struct dividing_inspection *inspection,
                                                   const struct dividing_measurement *measurement,
                                                   double zone_diameter_mm,
                                                   double guard_band,
                                                   struct dividing_part_verdict *out);

/**
 * Every check of dividing_inspection_check_position, in the order of the
 * places, into the caller's array of `capacity` records.
 *
 * Errors: those of dividing_inspection_check_position and buffer_too_small.
 * Threads: any.
 */
dividing_status dividing_inspection_position_checks(const struct dividing_inspection *inspection,
                                                    const struct dividing_measurement *measurement,
                                                    double zone_diameter_mm,
                                                    double guard_band,
                                                    struct dividing_check *checks,
                                                    size_t capacity);

/**
 * The classes of ISO 1328-1:2013 that the pitch of a ring meets, its pitch
 * alone: a plate is no gear. `module_mm` is 0.5 to 70, `reference_diameter_mm`
 * 5 to 15000; `about` is a dividing_about.
 *
 * Errors: inconsistent for stations and for two devices compared; undetermined when a place is
 * missing; out_of_range, null_pointer, misaligned. Threads: any.
 */
dividing_status dividing_inspection_pitch_class(const struct dividing_inspection *inspection,
                                                int32_t about,
                                                double module_mm,
                                                double reference_diameter_mm,
                                                struct dividing_pitch_class *out);

/**
 * The angle of `numerator / denominator` turns, in degrees.
 *
 * Errors: NaN for a denominator of 0; dividing_last_error_text says why.
 * Threads: any.
 */
double dividing_turns_to_degrees(int64_t numerator,
                                 int64_t denominator);

/**
 * The angle of `numerator / denominator` turns, in radians.
 *
 * Errors: NaN for a denominator of 0; dividing_last_error_text says why.
 * Threads: any.
 */
double dividing_turns_to_radians(int64_t numerator,
                                 int64_t denominator);

/**
 * X of a hole of a bolt circle, from the centre, in millimetres.
 *
 * `radius_mm` is that of the pitch circle, above 0 to 100000; `count` holes, 2
 * to 100000, equally spaced; `hole` counts from 0, counter-clockwise, and goes
 * round again beyond the last; `first_angle_deg` is the drawing angle of hole
 * 0 in degrees from the X axis. Counts are whole numbers.
 *
 * Errors: NaN for a value outside these limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_bolt_circle_x_mm(double radius_mm,
                                 double count,
                                 double hole,
                                 double first_angle_deg);

/**
 * Y of a hole of a bolt circle, from the centre, in millimetres.
 *
 * `radius_mm`, `count`, `hole` and `first_angle_deg` as
 * dividing_bolt_circle_x_mm.
 *
 * Errors: as dividing_bolt_circle_x_mm. Threads: any.
 */
double dividing_bolt_circle_y_mm(double radius_mm,
                                 double count,
                                 double hole,
                                 double first_angle_deg);

/**
 * Centre distance of two holes of a bolt circle, in millimetres.
 *
 * `radius_mm` and `count` as dividing_bolt_circle_x_mm; `spaces` hole spaces
 * from one to the other, 0 to `count`: 1 for neighbours.
 *
 * Errors: NaN for a value outside the limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_bolt_circle_chord_mm(double radius_mm,
                                     double count,
                                     double spaces);

/**
 * Whole crank turns in the move for one of `divisions` equal parts.
 *
 * The worm ratio is `worm_turns` of the crank for `spindle_turns` of the
 * spindle, 40 and 1 for the usual head, each 1 to 100000; `divisions` is 1 to
 * 1000000000, all whole numbers. The move is
 * worm_turns / (spindle_turns * divisions) turns.
 *
 * Errors: NaN for a value outside these limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_crank_whole_turns(double worm_turns,
                                  double spindle_turns,
                                  double divisions);

/**
 * Holes beyond the whole crank turns in the move for one of `divisions` equal
 * parts, on a circle of `holes` holes, 1 to 1000000000.
 *
 * `worm_turns`, `spindle_turns` and `divisions` as dividing_crank_whole_turns.
 *
 * Errors: NaN when the circle does not hold the move exactly, and for a value
 * outside the limits; dividing_last_error_text says which. Threads: any.
 */
double dividing_crank_holes(double worm_turns,
                            double spindle_turns,
                            double divisions,
                            double holes);

/**
 * How far off the spindle stands at one of `divisions` equal parts when the
 * crank is set from zero to the nearest hole, in seconds of arc: attained less
 * required; 0 where the circle holds the part exactly.
 *
 * `worm_turns`, `spindle_turns` and `divisions` as dividing_crank_whole_turns,
 * `holes` as dividing_crank_holes; `part` is the part, a whole number counted
 * from 0, at most 1000000000. Between two holes equally near the lower counts.
 *
 * Errors: NaN for a value outside the limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_crank_residual_arcsec(double worm_turns,
                                      double spindle_turns,
                                      double divisions,
                                      double holes,
                                      double part);

/**
 * Depth of cut of a flat on round stock, in millimetres: half of the stock's
 * diameter less the size across flats.
 *
 * `stock_diameter_mm` and `across_flats_mm` are above 0 to 100000 mm, the stock
 * the larger; across flats is twice the distance from the axis to a flat, for
 * odd numbers of flats too.
 *
 * Errors: NaN for a value outside the limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_flat_depth_mm(double stock_diameter_mm,
                              double across_flats_mm);

/**
 * The least clearance of a fit, smallest hole less largest pin, in
 * millimetres; below zero where they interfere.
 *
 * `fit` names the classes of the hole and the pin after ISO 286, "H7/g6", in
 * UTF-8 of `length` bytes, or up to its NUL with DIVIDING_NUL_ENDED;
 * `nominal_mm` is the nominal size, above 0 to 500 mm.
 *
 * Errors: NaN for a text that names no fit and a size outside the limits;
 * dividing_last_error_text says which. Threads: any.
 */
double dividing_fit_least_clearance_mm(const char *fit,
                                       size_t length,
                                       double nominal_mm);

/**
 * The greatest clearance of a fit, largest hole less smallest pin, in
 * millimetres; below zero where even they interfere.
 *
 * `fit`, `length` and `nominal_mm` as dividing_fit_least_clearance_mm.
 *
 * Errors: as dividing_fit_least_clearance_mm. Threads: any.
 */
double dividing_fit_greatest_clearance_mm(const char *fit,
                                          size_t length,
                                          double nominal_mm);

/**
 * The worst error of angle of a part held by a pin in a hole, either way, in
 * seconds of arc: the play of the pin, by the exact geometry, and the position
 * of the hole.
 *
 * `radius_mm` is that of the circle of holes; `clearance_mm` hole less pin, a
 * diameter, at least 0; `position_mm` the diameter of the zone within which
 * the centre of the hole lies, at least 0 and less than `radius_mm`: half of it
 * counts, over the radius.
 *
 * Errors: NaN for a value outside these limits and for a clearance that does
 * not hold the part at any angle; dividing_last_error_text says which.
 * Threads: any.
 */
double dividing_pin_worst_error_arcsec(double radius_mm,
                                       double clearance_mm,
                                       double position_mm);

/**
 * Height of the gauge blocks that set a sine bar to an angle, in millimetres.
 *
 * `length_mm` is the distance of the rollers, above 0 to 100000 mm;
 * `angle_deg` is 0 to below 90 degrees.
 *
 * Errors: NaN for a value outside these limits; dividing_last_error_text says
 * which. Threads: any.
 */
double dividing_sine_bar_height_mm(double length_mm,
                                   double angle_deg);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* DIVIDING_H */
