/*
 * Every export with every pointer NULL, every pointer off its alignment, every
 * handle foreign and every length absurd, one at a time with the others good: a status that says
 * so, the argument named, outputs untouched. With -DPROVOKE_PANIC also a panic
 * inside every export.
 */
#include "calls.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef PROVOKE_PANIC
/* Of a library built for tests: the next call on this thread panics inside. */
void dividing_provoke_panic(void);
#endif

enum { PLACES = 24, ROOM_BYTES = 1 << 14, MARK = 0x5A };

typedef enum spoiling { SOUND, TO_NULL, OFF_ALIGNMENT, TO_FOREIGN, TO_LENGTH, ALL_NULL } spoiling;

struct call {
    const exported *function;
    spoiling how;
    int place;
    size_t length;
    dividing_status status;
    double number;
    const char *text;
};

static unsigned long passed, failed, refused, unsampled;
/* Whether the export in hand accepts its sample, so that a refusal is exactly
 * about what was spoiled. */
static bool accepted;
static union {
    max_align_t alignment;
    unsigned char bytes[ROOM_BYTES];
} rooms[PLACES];

static const char *const HOW[] = {"sound", "NULL", "off its alignment", "no handle",
                                  "an absurd length", "NULL everywhere"};

static void check(bool good, const call *it, const char *what) {
    if (good) {
        passed++;
    } else if (failed++ < 40) {
        printf("%s, argument %s, %s: %s; status %s, last error: %.200s\n", it->function->name,
               it->place < 0 ? "-" : it->function->arguments[it->place].name, HOW[it->how],
               what, dividing_status_name(it->status), dividing_last_error_text());
    }
}

/* The pointer, spoiled if it is its turn. */
static void *spoiled(const call *it, int place, const void *pointer) {
    static max_align_t foreign[ROOM_BYTES / sizeof(max_align_t)];
    if (it->how == TO_FOREIGN && it->place == place) {
        return foreign;
    }
    if (it->how == ALL_NULL || (it->how == TO_NULL && it->place == place)) {
        return NULL;
    }
    return (void *)((uintptr_t)pointer + (it->how == OFF_ALIGNMENT && it->place == place));
}

size_t take_length(call *it, int place, size_t sample) {
    return it->how == TO_LENGTH && it->place == place ? it->length : sample;
}

const char *take_text(call *it, int place, const char *sample, int length_place,
                      size_t *length) {
    *length = take_length(it, length_place, strlen(sample));
    return (const char *)spoiled(it, place, sample);
}

const char *take_words(call *it, int place, const char *sample) {
    return (const char *)spoiled(it, place, sample);
}

const void *take_given(call *it, int place, const void *sample, size_t size, size_t count) {
    (void)size;
    (void)count;
    return spoiled(it, place, sample);
}

const void *take_pointing(call *it, int place, const void *sample) {
    return spoiled(it, place, sample);
}

void *take_output(call *it, int place, size_t size, size_t count) {
    if (place >= PLACES || size * (count < 64 ? count : 64) > ROOM_BYTES - 1) {
        printf("%s: no room for so large an output\n", it->function->name);
        exit(2);
    }
    memset(rooms[place].bytes, MARK, sizeof rooms[place]);
    return spoiled(it, place, rooms[place].bytes);
}

void *take_handle(call *it, int place, void *(*make)(void)) {
    return spoiled(it, place, make());
}

void *take_userdata(call *it, int place) {
    (void)it;
    (void)place;
    return NULL;
}

int64_t take_whole(call *it, int place, int64_t sample) {
    (void)it;
    (void)place;
    return sample;
}

double take_number(call *it, int place, double sample) {
    (void)it;
    (void)place;
    return sample;
}

bool took_status(call *it, dividing_status status) {
    it->status = status;
    return status == DIVIDING_STATUS_OK;
}

bool took_number(call *it, double number) {
    it->number = number;
    it->status = isnan(number) ? dividing_last_error_status() : DIVIDING_STATUS_OK;
    return !isnan(number);
}

void took_text(call *it, const char *text) {
    it->text = text;
    it->status = DIVIDING_STATUS_OK;
}

void took_nothing(call *it) {
    it->status = DIVIDING_STATUS_OK;
}

void refuse_sample(const char *function) {
    if (refused++ < 40) {
        printf("no handle: %s refuses its sample: %s\n", function, dividing_last_error_text());
    }
}

call *sound_call(void) {
    static call it = {0};
    return &it;
}

static call run(const exported *function, spoiling how, int place, size_t length) {
    call it = {0};
    it.function = function;
    it.how = how;
    it.place = place;
    it.length = length;
    function->run(&it);
    return it;
}

static bool untouched(const exported *function) {
    int place;
    size_t i;
    for (place = 0; place < function->count; place++) {
        if (function->arguments[place].kind == ARGUMENT_OUTPUT) {
            for (i = 0; i < ROOM_BYTES; i++) {
                if (rooms[place].bytes[i] != MARK) {
                    return false;
                }
            }
        }
    }
    return true;
}

/* The last error is about the argument: its name, or a path that begins so. */
static bool names(const char *argument) {
    const char *field = dividing_last_error_field();
    size_t length = strlen(argument);
    return strncmp(field, argument, length) == 0 &&
           (field[length] == '\0' || field[length] == '.' || field[length] == '[');
}

static bool fails(const exported *function) {
    return function->gives == RESULT_STATUS || function->gives == RESULT_NUMBER;
}

static void spoil(const exported *function, int place, spoiling how, dividing_status wanted) {
    const call it = run(function, how, place, 0);
    if (!fails(function)) {
        return;
    }
    check(accepted ? it.status == wanted : it.status != DIVIDING_STATUS_OK, &it, "the status");
    check(!accepted || names(function->arguments[place].name), &it, "the argument is named");
    check(untouched(function), &it, "outputs are untouched");
}

/* One of two that may be NULL together: which of them is named is left open. */
static void spoil_one_of_two(const exported *function, int place) {
    const call it = run(function, TO_NULL, place, 0);
    check(accepted ? it.status == DIVIDING_STATUS_INCONSISTENT
                   : it.status != DIVIDING_STATUS_OK,
          &it, "the status");
    check(untouched(function), &it, "outputs are untouched");
}

static void absurd_lengths(const exported *function, int place) {
    static const size_t lengths[] = {SIZE_MAX - 1, SIZE_MAX / 2, SIZE_MAX / 2 + 1,
                                     SIZE_MAX / 8, SIZE_MAX / 16 + 1};
    size_t i;
    for (i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        const call it = run(function, TO_LENGTH, place, lengths[i]);
        check(accepted ? it.status == DIVIDING_STATUS_OUT_OF_RANGE
                       : it.status != DIVIDING_STATUS_OK,
              &it, "the status");
        check(untouched(function), &it, "outputs are untouched");
    }
}

static void try_all(const exported *function) {
    call it;
    int place;
    bool required = false;
    if (function->frees) {
        it = run(function, TO_NULL, 0, 0);
        check(it.status == DIVIDING_STATUS_OK, &it, "NULL is accepted");
        if (function->arguments[0].alignment > 1) {
            it = run(function, TO_FOREIGN, 0, 0);
            check(dividing_last_error_status() == DIVIDING_STATUS_NOT_A_HANDLE, &it,
                  "the last error");
            check(names(function->arguments[0].name), &it, "the argument is named");
        }
        return;
    }
    it = run(function, SOUND, -1, 0);
    accepted = it.status == DIVIDING_STATUS_OK;
    if (!accepted) {
        unsampled++;
        printf("no good sample: %s: %s\n", function->name, dividing_last_error_text());
    }
    if (function->gives == RESULT_TEXT) {
        check(it.text != NULL, &it, "a text");
    }
    for (place = 0; place < function->count; place++) {
        const argument *argument = &function->arguments[place];
        if (argument->kind == ARGUMENT_LENGTH) {
            absurd_lengths(function, place);
        } else if (argument->alignment != 0) {
            if (argument->null == NULL_TOGETHER) {
                spoil_one_of_two(function, place);
            } else if (argument->null == NULL_ACCEPTED) {
                const call allowed = run(function, TO_NULL, place, 0);
                check(!accepted || allowed.status == DIVIDING_STATUS_OK, &allowed,
                      "NULL is accepted");
            } else {
                required = true;
                spoil(function, place, TO_NULL, DIVIDING_STATUS_NULL_POINTER);
            }
            if (argument->alignment > 1) {
                spoil(function, place, OFF_ALIGNMENT, DIVIDING_STATUS_MISALIGNED);
            }
            if (argument->kind == ARGUMENT_HANDLE) {
                spoil(function, place, TO_FOREIGN, DIVIDING_STATUS_NOT_A_HANDLE);
            }
        }
    }
    if (required) {
        it = run(function, ALL_NULL, -1, 0);
        check(accepted ? it.status == DIVIDING_STATUS_NULL_POINTER
                       : it.status != DIVIDING_STATUS_OK,
              &it, "the status");
    }
}

#ifdef PROVOKE_PANIC
/* Text functions read a table and cannot fail; all others must be guarded. */
static void panic_in(const exported *function) {
    call it;
    dividing_fraction turns;
    if (function->gives == RESULT_TEXT || function->gives == RESULT_OTHER ||
        strncmp(function->name, "dividing_last_error_", 20) == 0) {
        return;
    }
    if (!function->frees) {
        run(function, SOUND, -1, 0); /* makes the handles that it needs */
    }
    dividing_provoke_panic();
    it = function->frees ? run(function, TO_NULL, 0, 0) : run(function, SOUND, -1, 0);
    if (fails(function)) {
        check(it.status == DIVIDING_STATUS_PANIC, &it, "a panic becomes a status");
        check(untouched(function), &it, "outputs are untouched");
    }
    check(dividing_last_error_status() == DIVIDING_STATUS_PANIC, &it, "the last error");
    check(strstr(dividing_last_error_message(), "provoked by a test") != NULL, &it,
          "the message");
    it.status = dividing_angle_parse("22.5 deg", DIVIDING_NUL_ENDED, &turns);
    check(it.status == DIVIDING_STATUS_OK && turns.denominator == 16, &it,
          "the library goes on");
}
#endif

int main(void) {
    size_t i;
    for (i = 0; i < EXPORT_COUNT; i++) {
        try_all(&EXPORTS[i]);
    }
#ifdef PROVOKE_PANIC
    for (i = 0; i < EXPORT_COUNT; i++) {
        panic_in(&EXPORTS[i]);
    }
#endif
    free_samples();
    printf("%lu exports, %lu of them without a good sample, %lu checks passed, %lu failed\n",
           (unsigned long)EXPORT_COUNT, unsampled, passed, failed);
    return failed == 0 && EXPORT_COUNT > 0 ? 0 : 1;
}
