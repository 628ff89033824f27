/*
 * How the generated calls (one for every export, see calls.rs) get their
 * arguments and hand over their results. every_export.c spoils one argument at
 * a time; fuzz_every_export.c draws them from the bytes of the fuzzer.
 */
#ifndef DIVIDING_TEST_CALLS_H
#define DIVIDING_TEST_CALLS_H

#include "dividing.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What an argument is, in the order of the function. */
typedef enum argument_kind {
    ARGUMENT_VALUE,    /* a number, a struct or a callback */
    ARGUMENT_LENGTH,   /* of a text or an array */
    ARGUMENT_TEXT,     /* a text that goes in */
    ARGUMENT_GIVEN,    /* a struct or an array that goes in */
    ARGUMENT_HANDLE,   /* of the library */
    ARGUMENT_HANDLES,  /* an array of them */
    ARGUMENT_OUTPUT,   /* a place that takes an output */
    ARGUMENT_USERDATA, /* a pointer that the library does not look at */
} argument_kind;

/* What becomes of a pointer that is NULL, as the comment of the function says. */
typedef enum null_pointer {
    NULL_REFUSED,
    NULL_ACCEPTED,
    NULL_TOGETHER, /* accepted when another is NULL as well */
} null_pointer;

typedef struct argument {
    const char *name;
    argument_kind kind;
    size_t alignment; /* of what is pointed to; 0 for what is no pointer */
    null_pointer null;
} argument;

/* What came back. */
typedef enum result_kind {
    RESULT_STATUS,
    RESULT_NUMBER, /* a double, NaN for a failure */
    RESULT_TEXT,   /* a text of the library, never NULL */
    RESULT_NOTHING,
    RESULT_OTHER,
} result_kind;

typedef struct call call;

typedef struct exported {
    const char *name;
    result_kind gives;
    bool frees; /* takes a handle or a text away */
    int count;
    const argument *arguments;
    void (*run)(call *);
} exported;

extern const exported EXPORTS[];
extern const size_t EXPORT_COUNT;

/* Where the arguments come from; the place is that of the argument. */
const char *take_text(call *, int place, const char *sample, int length_place, size_t *length);
const char *take_words(call *, int place, const char *sample);
size_t take_length(call *, int place, size_t sample);
const void *take_given(call *, int place, const void *sample, size_t size, size_t count);
const void *take_pointing(call *, int place, const void *sample);
void *take_output(call *, int place, size_t size, size_t count);
void *take_handle(call *, int place, void *(*make)(void));
void *take_userdata(call *, int place);
int64_t take_whole(call *, int place, int64_t sample);
double take_number(call *, int place, double sample);

/* Whether the call succeeded, and so its outputs are to be freed. */
bool took_status(call *, dividing_status);
bool took_number(call *, double);
void took_text(call *, const char *);
void took_nothing(call *);

/* A call whose arguments are the samples. */
call *sound_call(void);

/* A handle of the sample, made once and freed by free_samples. */
void free_samples(void);
/* The sample of a handle's maker is refused, so there is no handle to call with. */
void refuse_sample(const char *function);

#endif
