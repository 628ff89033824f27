/*
 * A fault on purpose: two threads let the library write to one place at a time.
 * A checker of threads that looks into the library must see it.
 */
#define _POSIX_C_SOURCE 200809L
#include <dividing.h>

#include <pthread.h>
#include <stddef.h>

static dividing_fraction turns;
static pthread_barrier_t both;

static void *write_there(void *argument) {
    int i;
    /* Long enough to overlap. */
    pthread_barrier_wait(&both);
    for (i = 0; i < 20000; i++) {
        (void)dividing_angle_parse("22.5 deg", DIVIDING_NUL_ENDED, &turns);
    }
    return argument;
}

int main(void) {
    pthread_t other;
    if (pthread_barrier_init(&both, NULL, 2) != 0 ||
        pthread_create(&other, NULL, write_there, NULL) != 0) {
        return 0;
    }
    write_there(NULL);
    pthread_join(other, NULL);
    return 0;
}
