/*
 * Fuzzes one export: the environment variable FUZZ_EXPORT names it, and the
 * bytes of the fuzzer become its arguments. Texts come first, each up to a byte
 * 0x1E; what is left over makes numbers, lengths of arrays and their entries.
 * Handles are those of the samples.
 *
 * FUZZ_LIST=1 prints the exports that take a text or an array, and ends;
 * FUZZ_SEED names a file that takes the bytes of the sample's arguments.
 */
#include "calls.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SEPARATOR = 0x1E, PLACES = 24, MOST_ENTRIES = 40 };

struct call {
    bool sound;          /* the samples, not the fuzzer's bytes */
    FILE *seed, *behind; /* take the samples down: texts, and what is behind them */
    const uint8_t *texts, *numbers, *end;
    void *taken[PLACES * 2]; /* to be freed */
    size_t taken_count;
};

static const exported *chosen;

static void *room(call *it, size_t size) {
    /* Just the size, so that a checker of memory sees one byte more. */
    void *fresh = malloc(size == 0 ? 1 : size);
    if (fresh == NULL || it->taken_count == sizeof it->taken / sizeof it->taken[0]) {
        abort();
    }
    it->taken[it->taken_count++] = fresh;
    return fresh;
}

static void release(call *it) {
    while (it->taken_count > 0) {
        free(it->taken[--it->taken_count]);
    }
}

/* The next bytes of the numbers, zeros after their end. */
static void draw(call *it, void *to, size_t size) {
    const size_t left = (size_t)(it->end - it->numbers);
    const size_t count = left < size ? left : size;
    memset(to, 0, size);
    memcpy(to, it->numbers, count);
    it->numbers += count;
}

/* Takes down a byte of the numbers. */
static void note(call *it, uint8_t byte) {
    if (it->behind != NULL) {
        fputc(byte, it->behind);
    }
}

const char *take_text(call *it, int place, const char *sample, int length_place,
                      size_t *length) {
    const uint8_t *end;
    char *text;
    (void)place;
    (void)length_place;
    if (it->sound) {
        *length = strlen(sample);
        if (it->seed != NULL) {
            fprintf(it->seed, "%s%c", sample, SEPARATOR);
        }
        return sample;
    }
    for (end = it->texts; end < it->end && *end != SEPARATOR; end++) {
    }
    *length = (size_t)(end - it->texts);
    text = (char *)room(it, *length);
    memcpy(text, it->texts, *length);
    it->texts = end < it->end ? end + 1 : end;
    return text;
}

const char *take_words(call *it, int place, const char *sample) {
    size_t length;
    const char *text = take_text(it, place, sample == NULL ? "" : sample, 0, &length);
    char *ended;
    if (it->sound) {
        return sample;
    }
    if (sample == NULL && length == 0) {
        return NULL; /* may be, and is in the sample */
    }
    ended = (char *)room(it, length + 1);
    memcpy(ended, text, length);
    ended[length] = '\0';
    return ended;
}

size_t take_length(call *it, int place, size_t sample) {
    uint8_t length;
    (void)place;
    if (it->sound) {
        note(it, (uint8_t)sample);
        return sample;
    }
    draw(it, &length, 1);
    return length % (MOST_ENTRIES + 1);
}

const void *take_given(call *it, int place, const void *sample, size_t size, size_t count) {
    void *given;
    (void)place;
    if (it->sound) {
        if (it->behind != NULL) {
            fwrite(sample, size, count, it->behind);
        }
        return sample;
    }
    given = room(it, size * count);
    draw(it, given, size * count);
    return given;
}

const void *take_pointing(call *it, int place, const void *sample) {
    (void)it;
    (void)place;
    return sample; /* bytes that are pointers cannot be drawn */
}

void *take_output(call *it, int place, size_t size, size_t count) {
    (void)place;
    return room(it, size * count);
}

void *take_handle(call *it, int place, void *(*make)(void)) {
    (void)it;
    (void)place;
    return make();
}

void *take_userdata(call *it, int place) {
    (void)it;
    (void)place;
    return NULL;
}

int64_t take_whole(call *it, int place, int64_t sample) {
    int64_t drawn;
    uint8_t how;
    (void)place;
    if (it->sound) {
        note(it, 0);
        return sample;
    }
    /* Mostly the sample or something small; the far ends of the range, too. */
    draw(it, &how, 1);
    if (how == 0) {
        return sample;
    }
    if (how < 0xC0) {
        return (int64_t)how - 0x10;
    }
    draw(it, &drawn, sizeof drawn);
    return drawn;
}

double take_number(call *it, int place, double sample) {
    double drawn;
    uint8_t how;
    (void)place;
    if (it->sound) {
        note(it, 0);
        return sample;
    }
    draw(it, &how, 1);
    if (how == 0) {
        return sample;
    }
    if (how < 0xC0) {
        return (double)how / 4.0 - 4.0;
    }
    draw(it, &drawn, sizeof drawn);
    return drawn;
}

bool took_status(call *it, dividing_status status) {
    (void)it;
    /* A panic or a defect is what the fuzzer looks for. */
    if (status >= DIVIDING_STATUS_INTERNAL) {
        fprintf(stderr, "%s\n", dividing_last_error_text());
        abort();
    }
    if (status != DIVIDING_STATUS_OK && dividing_last_error_message()[0] == '\0') {
        abort();
    }
    return status == DIVIDING_STATUS_OK;
}

bool took_number(call *it, double number) {
    if (number != number) {
        return took_status(it, dividing_last_error_status());
    }
    return true;
}

void took_text(call *it, const char *text) {
    (void)it;
    if (text == NULL) {
        abort();
    }
}

void took_nothing(call *it) {
    (void)it;
}

call *sound_call(void) {
    static call it;
    release(&it);
    memset(&it, 0, sizeof it);
    it.sound = true;
    return &it;
}

void refuse_sample(const char *function) {
    (void)function; /* calls go on with NULL */
}

static bool takes(const exported *function, argument_kind kind) {
    int place;
    for (place = 0; place < function->count; place++) {
        if (function->arguments[place].kind == kind) {
            return true;
        }
    }
    return false;
}

static void list(void) {
    size_t i;
    for (i = 0; i < EXPORT_COUNT; i++) {
        if (takes(&EXPORTS[i], ARGUMENT_TEXT) || takes(&EXPORTS[i], ARGUMENT_LENGTH) ||
            takes(&EXPORTS[i], ARGUMENT_GIVEN)) {
            printf("%s\n", EXPORTS[i].name);
        }
    }
}

static void write_seed(const char *path) {
    call it = {0};
    int byte;
    it.sound = true;
    it.seed = fopen(path, "wb");
    it.behind = tmpfile();
    if (it.seed == NULL || it.behind == NULL) {
        abort();
    }
    chosen->run(&it);
    release(&it);
    rewind(it.behind);
    while ((byte = fgetc(it.behind)) != EOF) {
        fputc(byte, it.seed);
    }
    fclose(it.behind);
    fclose(it.seed);
}

int LLVMFuzzerInitialize(int *count, char ***arguments);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerInitialize(int *count, char ***arguments) {
    const char *name = getenv("FUZZ_EXPORT");
    size_t i;
    (void)count;
    (void)arguments;
    if (getenv("FUZZ_LIST") != NULL) {
        list();
        exit(0);
    }
    for (i = 0; i < EXPORT_COUNT; i++) {
        if (name != NULL && strcmp(name, EXPORTS[i].name) == 0) {
            chosen = &EXPORTS[i];
        }
    }
    if (chosen == NULL) {
        fprintf(stderr, "FUZZ_EXPORT names no export\n");
        exit(2);
    }
    if (getenv("FUZZ_SEED") != NULL) {
        write_seed(getenv("FUZZ_SEED"));
        exit(0);
    }
    return 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    call it = {0};
    int place;
    it.texts = it.numbers = data;
    it.end = data + size;
    for (place = 0; place < chosen->count; place++) {
        if (chosen->arguments[place].kind == ARGUMENT_TEXT) {
            while (it.numbers < it.end && *it.numbers != SEPARATOR) {
                it.numbers++;
            }
            it.numbers += it.numbers < it.end;
        }
    }
    chosen->run(&it);
    release(&it);
    return 0;
}
