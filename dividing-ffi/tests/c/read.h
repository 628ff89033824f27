/*
 * Reading vectors: files, arrays of numbers, fractions.
 */
#ifndef DIVIDING_TEST_READ_H
#define DIVIDING_TEST_READ_H

#include "json.h"
#include "suite.h"

#include <math.h>
#include <stdio.h>

#define Z DIVIDING_NUL_ENDED

/* Reads a file of vectors; the text must outlive the value. */
static inline bool vectors_of(const char *folder, const char *name, char **text, json_value *value) {
    size_t length = 0;
    bool good;
    memset(value, 0, sizeof *value);
    *text = read_file(folder, name, &length);
    good = *text != NULL && json_read(*text, length, value);
    CHECK(good, name);
    return good;
}

/* A number of an object; NaN where there is none. */
static inline double number_of(const json_value *object, const char *key) {
    const json_value *value = json_get(object, key);
    return value != NULL && value->kind == JSON_NUMBER ? strtod(value->text, NULL) : (double)NAN;
}

/* The numbers of an array, to be freed; NaN for null. */
static inline double *numbers_of(const json_value *array, size_t *count) {
    double *numbers;
    size_t i;
    *count = array == NULL ? 0 : array->count;
    numbers = (double *)malloc((*count + 1) * sizeof *numbers);
    for (i = 0; numbers != NULL && i < *count; i++) {
        const json_value *item = &array->items[i];
        numbers[i] = item->kind == JSON_NUMBER ? strtod(item->text, NULL) : (double)NAN;
    }
    return numbers;
}

/* "n/d" or "n". */
static inline dividing_fraction fraction_of(const char *text) {
    dividing_fraction fraction = {0, 1};
    char *end;
    fraction.numerator = strtoll(text, &end, 10);
    if (*end == '/') {
        fraction.denominator = strtoll(end + 1, NULL, 10);
    }
    return fraction;
}

static inline bool within(double found, double wanted, double off) {
    return fabs(found - wanted) <= off;
}

#endif
