/* Moves the wall clock of a process by WALL_CLOCK_AHEAD_S seconds. What is waited by, the monotonic clock, is left
   alone: moved as well, waits with a time limit would end years later. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/time.h>
#include <time.h>

static time_t shift(void) {
    const char *seconds = getenv("WALL_CLOCK_AHEAD_S");
    return seconds ? atol(seconds) : 0;
}

int clock_gettime(clockid_t id, struct timespec *at) {
    static int (*real)(clockid_t, struct timespec *);
    if (!real) real = dlsym(RTLD_NEXT, "clock_gettime");
    int failed = real(id, at);
    if (!failed && (id == CLOCK_REALTIME || id == CLOCK_REALTIME_COARSE)) at->tv_sec += shift();
    return failed;
}

time_t time(time_t *into) {
    struct timespec at;
    clock_gettime(CLOCK_REALTIME, &at);
    if (into) *into = at.tv_sec;
    return at.tv_sec;
}

int gettimeofday(struct timeval *restrict into, void *restrict zone) {
    struct timespec at;
    clock_gettime(CLOCK_REALTIME, &at);
    into->tv_sec = at.tv_sec;
    into->tv_usec = at.tv_nsec / 1000;
    return 0;
}
