#define _XOPEN_SOURCE 600
#define _DEFAULT_SOURCE
#include "terminal.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <termios.h>
#include <unistd.h>

static int host_side = -1;

/* Our own hold on the chip's side keeps the terminal alive while no host has it open. */
const char *terminal_make(void)
{
    struct termios raw;
    host_side = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
    if (host_side < 0 || grantpt(host_side) || unlockpt(host_side)) {
        perror("no pseudo-terminal");
        exit(1);
    }
    const char *path = ptsname(host_side);
    int hold = open(path, O_RDWR | O_NOCTTY);
    if (hold < 0 || tcgetattr(hold, &raw)) {
        perror(path);
        exit(1);
    }
    cfmakeraw(&raw);
    tcsetattr(hold, TCSANOW, &raw);
    return path;
}

size_t terminal_read(uint8_t *bytes, size_t most)
{
    ssize_t count = read(host_side, bytes, most);
    return count > 0 ? (size_t)count : 0;
}

void terminal_write(uint8_t byte)
{
    if (write(host_side, &byte, 1) != 1)
        return; /* lost */
}
