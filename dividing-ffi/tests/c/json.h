/*
 * A small reader of JSON for the tests: enough for the files in tests/vectors.
 * A value knows where it stands in the source, so that a document inside a
 * vector can be handed on as it is written.
 */
#ifndef DIVIDING_TEST_JSON_H
#define DIVIDING_TEST_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

typedef enum json_kind {
    JSON_NULL,
    JSON_BOOL,
    JSON_NUMBER,
    JSON_STRING,
    JSON_ARRAY,
    JSON_OBJECT
} json_kind;

typedef struct json_value {
    json_kind kind;
    bool truth;               /* of a JSON_BOOL */
    char *key;                /* of a member of an object */
    char *text;               /* of a string, decoded; of a number, as written */
    size_t text_length;       /* without the NUL after it */
    struct json_value *items; /* of an array or an object */
    size_t count;
    const char *source; /* where the value is written */
    size_t source_length;
} json_value;

typedef struct json_reader {
    const char *at;
    const char *end;
    int depth;
} json_reader;

static inline bool json_read_value(json_reader *reader, json_value *value);

static inline void json_free(json_value *value) {
    size_t i;
    for (i = 0; i < value->count; i++) {
        json_free(&value->items[i]);
    }
    free(value->items);
    free(value->key);
    free(value->text);
    memset(value, 0, sizeof *value);
}

static inline void json_skip_space(json_reader *reader) {
    while (reader->at < reader->end && strchr(" \t\r\n", *reader->at) != NULL &&
           *reader->at != '\0') {
        reader->at++;
    }
}

static inline bool json_take(json_reader *reader, const char *word) {
    size_t length = strlen(word);
    if ((size_t)(reader->end - reader->at) < length ||
        memcmp(reader->at, word, length) != 0) {
        return false;
    }
    reader->at += length;
    return true;
}

static inline bool json_hex(json_reader *reader, unsigned long *code) {
    int i;
    *code = 0;
    if (reader->end - reader->at < 4) {
        return false;
    }
    for (i = 0; i < 4; i++) {
        static const char digits[] = "0123456789abcdef";
        char c = *reader->at++;
        const char *digit;
        if (c >= 'A' && c <= 'F') {
            c = (char)(c - 'A' + 'a');
        }
        digit = c == '\0' ? NULL : strchr(digits, c);
        if (digit == NULL) {
            return false;
        }
        *code = *code * 16 + (unsigned long)(digit - digits);
    }
    return true;
}

static inline char *json_put_utf8(char *to, unsigned long code) {
    if (code < 0x80) {
        *to++ = (char)code;
    } else if (code < 0x800) {
        *to++ = (char)(0xC0 | (code >> 6));
        *to++ = (char)(0x80 | (code & 0x3F));
    } else if (code < 0x10000) {
        *to++ = (char)(0xE0 | (code >> 12));
        *to++ = (char)(0x80 | ((code >> 6) & 0x3F));
        *to++ = (char)(0x80 | (code & 0x3F));
    } else {
        *to++ = (char)(0xF0 | (code >> 18));
        *to++ = (char)(0x80 | ((code >> 12) & 0x3F));
        *to++ = (char)(0x80 | ((code >> 6) & 0x3F));
        *to++ = (char)(0x80 | (code & 0x3F));
    }
    return to;
}

/* Reads a string; the text never grows by decoding, so its source is room enough. */
static inline bool json_read_string(json_reader *reader, char **text, size_t *length) {
    char *to;
    if (!json_take(reader, "\"")) {
        return false;
    }
    to = *text = (char *)malloc((size_t)(reader->end - reader->at) + 1);
    if (to == NULL) {
        return false;
    }
    while (reader->at < reader->end && *reader->at != '"') {
        char c = *reader->at++;
        if (c != '\\') {
            *to++ = c;
            continue;
        }
        if (reader->at == reader->end) {
            return false;
        }
        c = *reader->at++;
        if (c == 'u') {
            unsigned long code, low;
            if (!json_hex(reader, &code)) {
                return false;
            }
            if (code >= 0xD800 && code < 0xDC00) {
                if (!json_take(reader, "\\u") || !json_hex(reader, &low) || low < 0xDC00) {
                    return false;
                }
                code = 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00);
            }
            to = json_put_utf8(to, code);
        } else {
            static const char names[] = "\"\\/bfnrt";
            static const char meant[] = "\"\\/\b\f\n\r\t";
            const char *name = c == '\0' ? NULL : strchr(names, c);
            if (name == NULL) {
                return false;
            }
            *to++ = meant[name - names];
        }
    }
    *to = '\0';
    *length = (size_t)(to - *text);
    to = (char *)realloc(*text, *length + 1);
    if (to != NULL) {
        *text = to;
    }
    return json_take(reader, "\"");
}

static inline bool json_read_items(json_reader *reader, json_value *value, const char *close) {
    size_t room = 0;
    json_skip_space(reader);
    if (json_take(reader, close)) {
        return true;
    }
    do {
        json_value *item;
        if (value->count == room) {
            json_value *more;
            room = room * 2 + 4;
            more = (json_value *)realloc(value->items, room * sizeof *more);
            if (more == NULL) {
                return false;
            }
            value->items = more;
        }
        item = &value->items[value->count++];
        memset(item, 0, sizeof *item);
        if (value->kind == JSON_OBJECT) {
            size_t length;
            json_skip_space(reader);
            if (!json_read_string(reader, &item->key, &length)) {
                return false;
            }
            json_skip_space(reader);
            if (!json_take(reader, ":")) {
                return false;
            }
        }
        if (!json_read_value(reader, item)) {
            return false;
        }
        json_skip_space(reader);
    } while (json_take(reader, ","));
    return json_take(reader, close);
}

static inline bool json_read_number(json_reader *reader, json_value *value) {
    const char *start = reader->at;
    while (reader->at < reader->end && *reader->at != '\0' &&
           strchr("+-.0123456789eE", *reader->at) != NULL) {
        reader->at++;
    }
    value->text_length = (size_t)(reader->at - start);
    if (value->text_length == 0) {
        return false;
    }
    value->text = (char *)malloc(value->text_length + 1);
    if (value->text == NULL) {
        return false;
    }
    memcpy(value->text, start, value->text_length);
    value->text[value->text_length] = '\0';
    return true;
}

static inline bool json_read_value(json_reader *reader, json_value *value) {
    bool good;
    json_skip_space(reader);
    value->source = reader->at;
    if (reader->at == reader->end || ++reader->depth > 100) {
        return false;
    }
    if (json_take(reader, "{")) {
        value->kind = JSON_OBJECT;
        good = json_read_items(reader, value, "}");
    } else if (json_take(reader, "[")) {
        value->kind = JSON_ARRAY;
        good = json_read_items(reader, value, "]");
    } else if (*reader->at == '"') {
        value->kind = JSON_STRING;
        good = json_read_string(reader, &value->text, &value->text_length);
    } else if (json_take(reader, "true")) {
        value->kind = JSON_BOOL;
        value->truth = true;
        good = true;
    } else if (json_take(reader, "false")) {
        value->kind = JSON_BOOL;
        good = true;
    } else if (json_take(reader, "null")) {
        value->kind = JSON_NULL;
        good = true;
    } else {
        value->kind = JSON_NUMBER;
        good = json_read_number(reader, value);
    }
    value->source_length = (size_t)(reader->at - value->source);
    reader->depth--;
    return good;
}

/* Reads a whole text. On false the value may be partly filled: free it too. */
static inline bool json_read(const char *text, size_t length, json_value *value) {
    json_reader reader;
    reader.at = text;
    reader.end = text + length;
    reader.depth = 0;
    memset(value, 0, sizeof *value);
    if (!json_read_value(&reader, value)) {
        return false;
    }
    json_skip_space(&reader);
    return reader.at == reader.end;
}

/* The member of an object, or NULL. */
static inline const json_value *json_get(const json_value *object, const char *key) {
    size_t i;
    for (i = 0; object != NULL && object->kind == JSON_OBJECT && i < object->count; i++) {
        if (strcmp(object->items[i].key, key) == 0) {
            return &object->items[i];
        }
    }
    return NULL;
}

/* The text of a string or number of an object; "" when there is none. */
static inline const char *json_text(const json_value *object, const char *key) {
    const json_value *value = json_get(object, key);
    return value != NULL && value->text != NULL ? value->text : "";
}

/* Whether two values are the same; the order of members is free. */
static inline bool json_equal(const json_value *a, const json_value *b) {
    size_t i;
    if (a->kind != b->kind || a->count != b->count) {
        return false;
    }
    switch (a->kind) {
    case JSON_NULL:
        return true;
    case JSON_BOOL:
        return a->truth == b->truth;
    case JSON_NUMBER:
    case JSON_STRING:
        return a->text_length == b->text_length &&
               memcmp(a->text, b->text, a->text_length) == 0;
    case JSON_ARRAY:
        for (i = 0; i < a->count; i++) {
            if (!json_equal(&a->items[i], &b->items[i])) {
                return false;
            }
        }
        return true;
    case JSON_OBJECT:
        for (i = 0; i < a->count; i++) {
            const json_value *other = json_get(b, a->items[i].key);
            if (other == NULL || !json_equal(&a->items[i], other)) {
                return false;
            }
        }
        return true;
    }
    return false;
}

#endif
