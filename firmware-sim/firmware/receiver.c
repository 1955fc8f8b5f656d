#include "receiver.h"

static bool end_line(struct receiver *receiver)
{
    bool good = !receiver->spoiled && receiver->length > 0;
    if (receiver->spoiled)
        receiver->bad_lines++;
    receiver->text[receiver->length] = '\0';
    receiver->length = 0;
    receiver->spoiled = false;
    return good;
}

bool receiver_take(struct receiver *receiver, uint8_t byte)
{
    if (byte == '\n' || byte == '\r')
        return end_line(receiver);
    if (byte < 0x20 || byte > 0x7E || receiver->length == COMMAND_LIMIT)
        receiver->spoiled = true;
    else
        receiver->text[receiver->length++] = (char)byte;
    return false;
}
