// Writes a payload by whole numbers: small boards have no floating point in printf, and some write a comma where a point must stand.
#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdio>

namespace incubation {

struct Civil {
    int64_t year;
    int month, day;
};

inline bool is_leap(int64_t year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

// The date of a day counted from 1970-01-01. Steps through years and months: a board does it once in ten seconds.
inline Civil civil_from_days(int64_t days) {
    static const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    Civil date = {1970, 1, 1};
    while (days >= (is_leap(date.year) ? 366 : 365)) {
        days -= is_leap(date.year) ? 366 : 365;
        ++date.year;
    }
    for (;; ++date.month) {
        const int length = date.month == 2 && is_leap(date.year) ? 29 : lengths[date.month - 1];
        if (days < length) break;
        days -= length;
    }
    date.day = static_cast<int>(days) + 1;
    return date;
}

// RFC 3339 in UTC with milliseconds: 24 characters. Returns the length, or 0 when it does not fit.
inline size_t write_time(char* into, size_t room, int64_t unix_ms) {
    if (unix_ms < 0 || unix_ms > 32503680000000LL) return 0;  // up to the year 3000
    const int64_t seconds = unix_ms / 1000;
    const Civil date = civil_from_days(seconds / 86400);
    const int64_t in_day = seconds % 86400;
    const int length = snprintf(into, room, "%04lld-%02d-%02dT%02d:%02d:%02d.%03dZ", static_cast<long long>(date.year), date.month, date.day,
                                static_cast<int>(in_day / 3600), static_cast<int>(in_day / 60 % 60), static_cast<int>(in_day % 60),
                                static_cast<int>(unix_ms % 1000));
    return length > 0 && static_cast<size_t>(length) < room ? static_cast<size_t>(length) : 0;
}

// 31400 -> 31.400, -55 -> -0.055. Returns the length, or 0 when it does not fit.
inline size_t write_milli(char* into, size_t room, int32_t milli) {
    const int64_t positive = milli < 0 ? -static_cast<int64_t>(milli) : milli;
    const int length = snprintf(into, room, "%s%lld.%03d", milli < 0 ? "-" : "", static_cast<long long>(positive / 1000),
                                static_cast<int>(positive % 1000));
    return length > 0 && static_cast<size_t>(length) < room ? static_cast<size_t>(length) : 0;
}

// A JSON object with a time, or a bare number when there is none. Returns the length, or 0 when it does not fit.
inline size_t write_payload(char* into, size_t room, int32_t milli, const char* unit, int64_t unix_ms) {
    if (unix_ms <= 0) return write_milli(into, room, milli);
    char value[16], at[40];
    if (write_milli(value, sizeof value, milli) == 0 || write_time(at, sizeof at, unix_ms) == 0) return 0;
    const int length = snprintf(into, room, "{\"value\":%s,\"unit\":\"%s\",\"at\":\"%s\"}", value, unit, at);
    return length > 0 && static_cast<size_t>(length) < room ? static_cast<size_t>(length) : 0;
}

}  // namespace incubation
