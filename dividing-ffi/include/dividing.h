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
     * A buffer of the caller is too small. No call of this version uses it.
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
 * Whether a plan holds the tolerance of its job.
 */
enum dividing_verdict
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /**
     * The worst case lies within the tolerance.
     */
    DIVIDING_VERDICT_PASS = 0,
    /**
     * The job gives no tolerance.
     */
    DIVIDING_VERDICT_NO_TOLERANCE = 1,
    /**
     * The settings lie within the tolerance, but the worst case does not, or
     * is not fully known.
     */
    DIVIDING_VERDICT_NOT_PROVEN = 2,
    /**
     * The settings alone are off by more than the tolerance.
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
 * All plans for a job, the best first: an opaque handle.
 *
 * Made by dividing_plans_new, freed by dividing_plans_free. It never changes
 * in between, so any number of threads may read one handle at a time.
 */
typedef struct dividing_plans dividing_plans;

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
 * Asked from time to time during a long search: `spent` steps of work are
 * done. It returns 0 to go on and any other number to stop. It may call
 * functions of this library, and must return: no exception, no longjmp.
 */
typedef int32_t (*dividing_watcher)(uint64_t spent,
                                    void *userdata);

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
     * without a tolerance.
     */
    double margin_rad;
    /**
     * The same in degrees.
     */
    double margin_deg;
    /**
     * Room for what is yet to come; 0.
     */
    uint64_t reserved[4];
} dividing_plan;

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
     * Room for sorts of settings yet to come; 0.
     */
    int64_t reserved[4];
} dividing_setting;

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
 * Plans a job on everything that a workshop owns.
 *
 * Both texts are JSON documents in UTF-8 with `"format": 1`, of the length
 * given in bytes, or up to their NUL with DIVIDING_NUL_ENDED.
 *
 * Errors: those of dividing_workshop_check and dividing_job_check, the field's
 * path beginning with "workshop" or "job"; overflow when the angles have no
 * common denominator within bounds; work_limit; null_pointer, invalid_utf8,
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
 * machine; 0 stands for the limit of dividing_plans_new, 200 million, some
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
 * Frees plans.
 *
 * Ownership: the handle and every text that belongs to it are gone; to free or
 * use it again is an error of the caller, and seen (not_a_handle) only while
 * its memory is not used for something else. NULL is accepted and does nothing. Threads: any, while no other thread uses the handle.
 */
void dividing_plans_free(struct dividing_plans *plans);

/**
 * How many plans there are: one for each piece of equipment that can be used
 * alone.
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
