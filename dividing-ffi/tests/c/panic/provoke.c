/*
 * A panic inside the library, seen from C: a status and a message, then the
 * library goes on working. Linked with a build of the library that has this
 * export, which the header does not show.
 */
#include "dividing.h"

#include <stdio.h>
#include <string.h>

dividing_status dividing_provoke_panic(void);

int main(void) {
    dividing_fraction turns;
    int i;
    for (i = 0; i < 3; i++) {
        if (dividing_provoke_panic() != DIVIDING_STATUS_PANIC ||
            strstr(dividing_last_error_message(), "provoked by a test") == NULL ||
            dividing_angle_parse("22.5 deg", DIVIDING_NUL_ENDED, &turns) !=
                DIVIDING_STATUS_OK ||
            turns.numerator != 1 || turns.denominator != 16) {
            printf("round %d: %s\n", i, dividing_last_error_text());
            return 1;
        }
    }
    return 0;
}
