/*
 * A fault on purpose: a text is read by the library after the caller freed it.
 * A checker of memory that looks into the library must see it.
 */
#include <dividing.h>

#include <stdlib.h>
#include <string.h>

int main(void) {
    dividing_fraction turns;
    char *text = (char *)malloc(16);
    if (text == NULL) {
        return 0;
    }
    memcpy(text, "22.5 deg", 8);
    free(text);
    return dividing_angle_parse(text, 8, &turns) == DIVIDING_STATUS_OK ? 0 : 1;
}
