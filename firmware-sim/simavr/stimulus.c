#include "stimulus.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

static bool read_bytes(const char *hex, struct stimulus *stimulus)
{
    unsigned byte;
    stimulus->count = 0;
    for (; sscanf(hex, "%2x", &byte) == 1; hex += 2) {
        if (stimulus->count == SAY_BYTES_MAX || !hex[1])
            return false;
        stimulus->bytes[stimulus->count++] = (uint8_t)byte;
    }
    return stimulus->count > 0;
}

bool stimulus_read(const char *line, struct stimulus *stimulus)
{
    char kind[8];
    int at = 0;
    if (sscanf(line, "%" SCNu64 " %7s %n", &stimulus->cycle, kind, &at) != 2)
        return false;
    const char *rest = line + at;
    if (strcmp(kind, "wheel") == 0) {
        stimulus->kind = STIMULUS_WHEEL;
        return sscanf(rest, "%d %d", &stimulus->a, &stimulus->b) == 2;
    }
    if (strcmp(kind, "stop") == 0) {
        stimulus->kind = STIMULUS_STOP;
        return sscanf(rest, "%d", &stimulus->a) == 1;
    }
    if (strcmp(kind, "cell") == 0) {
        stimulus->kind = STIMULUS_CELL;
        return sscanf(rest, "%u %lf %" SCNd32, &stimulus->cell, &stimulus->period, &stimulus->value) == 3 &&
               stimulus->cell < 6;
    }
    if (strcmp(kind, "say") == 0) {
        stimulus->kind = STIMULUS_SAY;
        return read_bytes(rest, stimulus);
    }
    stimulus->kind = STIMULUS_RUN;
    return strcmp(kind, "run") == 0;
}
