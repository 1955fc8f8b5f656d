/*
 * Constants that stay in flash on the board and are plain constants on a host, so that the pure modules compile on both.
 */
#ifndef FLASH_H
#define FLASH_H

#ifndef __AVR__
#define __flash
#endif

/* A string literal kept in flash; gives a `const __flash char *`. */
#define FLASH_TEXT(literal)                              \
    (__extension__({                                     \
        static const __flash char flash_text[] = literal; \
        &flash_text[0];                                  \
    }))

#endif
