/*
 * What the examples share.
 */
#ifndef DIVIDING_EXAMPLE_COMMON_H
#define DIVIDING_EXAMPLE_COMMON_H

#include <dividing.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Whether a call succeeded; if not, says why. */
static inline int good(dividing_status status) {
    if (status != DIVIDING_STATUS_OK) {
        fprintf(stderr, "%s: %s\n", dividing_status_name(status), dividing_last_error_text());
    }
    return status == DIVIDING_STATUS_OK;
}

/* Prints a text of the library and frees it. */
static inline int show(dividing_status status, char **text) {
    int done = good(status);
    if (done) {
        done = fputs(*text, stdout) >= 0;
        dividing_text_free(*text);
        *text = NULL;
    }
    return done;
}

#endif
