// Tests of the headers. Ends with 0 when all hold; prints payloads, one a line, which the service's own reader then reads.
#include <cstdio>
#include <cstring>
#include <ctime>
#include <string>
#include <vector>

#include "averager.h"
#include "sender.h"

using namespace incubation;

static int failures = 0;

#define HOLDS(condition)                                                       \
    do {                                                                       \
        if (!(condition)) {                                                    \
            ++failures;                                                        \
            fprintf(stderr, "line %d does not hold: %s\n", __LINE__, #condition); \
        }                                                                      \
    } while (0)

static const int64_t kNow = 1795575845000LL;  // 2026-11-25T03:04:05Z

struct FakeWire {
    std::vector<std::string> sent;
    bool up = true;
    int publish(const char*, const char* payload, size_t length) {
        if (!up) return -1;
        sent.emplace_back(payload, length);
        return static_cast<int>(sent.size());
    }
};

static void buffer_keeps_the_newest() {
    ReadingBuffer<4> buffer;
    for (int i = 0; i < 10; ++i) buffer.push({i, i, 0});
    HOLDS(buffer.size() == 4 && buffer.dropped() == 6 && buffer.front().unix_ms == 6 && buffer.front_number() == 6);
    for (int i = 6; i < 10; ++i) {
        HOLDS(buffer.front().unix_ms == i);
        buffer.pop();
    }
    buffer.pop();
    HOLDS(buffer.empty());
}

static void times_are_those_of_the_C_library() {
    for (int64_t second = 0; second < 4102444800LL; second += 86400LL * 5 + 12347) {
        const time_t moment = static_cast<time_t>(second);
        char expected[40], written[40];
        strftime(expected, sizeof expected, "%Y-%m-%dT%H:%M:%S.000Z", gmtime(&moment));
        HOLDS(write_time(written, sizeof written, second * 1000) == 24 && strcmp(expected, written) == 0);
    }
    char small[10];
    HOLDS(write_time(small, sizeof small, kNow) == 0 && write_time(small, sizeof small, -1) == 0);
}

static void payloads_are_as_the_notes_say() {
    char text[96];
    HOLDS(write_payload(text, sizeof text, 31400, "Cel", kNow) > 0);
    HOLDS(strcmp(text, "{\"value\":31.400,\"unit\":\"Cel\",\"at\":\"2026-11-25T03:04:05.000Z\"}") == 0);
    HOLDS(write_payload(text, sizeof text, -55, "Cel", 0) == 6 && strcmp(text, "-0.055") == 0);
    HOLDS(write_payload(text, sizeof text, INT32_MIN, "Cel", 0) > 0 && strcmp(text, "-2147483.648") == 0);
    HOLDS(write_payload(text, 20, 31400, "Cel", kNow) == 0);
    for (int32_t milli = 20000; milli < 40000; milli += 617) {
        if (write_payload(text, sizeof text, milli, "Cel", kNow + milli) > 0) puts(text);
        if (write_payload(text, sizeof text, milli, "Cel", 0) > 0) puts(text);
    }
}

static void clock_goes_on_through_the_counters_wrap() {
    ProbeClock clock;
    HOLDS(!clock.is_set() && clock.at(5) == 0 && !clock.set(1000, 5));
    HOLDS(clock.set(kNow, 0xFFFFFF00u));
    HOLDS(clock.at(0xFFFFFF00u + 0x200u) == kNow + 0x200);
    HOLDS(clock.at(0xFFFFFF00u - 5000u) == kNow - 5000);
    uint32_t counter = 0xFFFFFF00u;
    for (int day = 1; day <= 120; ++day) clock.keep(counter += 86400000u);
    HOLDS(clock.at(counter) == kNow + 120LL * 86400000LL);
}

static void averages_leave_faults_out_unless_they_are_most() {
    Averager averager;
    int32_t mean = 0;
    HOLDS(!averager.take(mean));
    for (int32_t milli : {31400, 31401, Averager::kDisconnected}) averager.add(milli);
    HOLDS(averager.take(mean) && mean == 31401);
    for (int32_t milli : {-31400, -31401}) averager.add(milli);
    HOLDS(averager.take(mean) && mean == -31401);
    for (int32_t milli : {31400, Averager::kDisconnected}) averager.add(milli);
    HOLDS(averager.take(mean) && mean == Averager::kDisconnected);
    HOLDS(!averager.take(mean));
}

static void sender_lets_go_only_what_was_acknowledged() {
    FakeWire wire;
    ProbeClock clock;
    Sender<3, FakeWire> sender(wire, "incubation/hazel/hazel-air/temperature", "Cel");
    sender.poll(clock, 0);
    HOLDS(wire.sent.empty());

    // Taken before the clock was set, sent after: with the time at which it was taken.
    sender.buffer().push({0, 31400, 1000});
    clock.set(kNow, 3000);
    sender.poll(clock, 3000);
    HOLDS(wire.sent.size() == 1 && wire.sent[0].find("03:04:03.000Z") != std::string::npos);

    // No PUBACK: not sent again at once, then the very same.
    sender.poll(clock, 4000);
    HOLDS(wire.sent.size() == 1);
    sender.poll(clock, 3000 + 15000);
    HOLDS(wire.sent.size() == 2 && wire.sent[0] == wire.sent[1]);
    sender.acknowledged(1);
    HOLDS(sender.buffer().size() == 1);
    sender.acknowledged(2);
    HOLDS(sender.buffer().empty());

    // The connection goes: the same again when it is back. A wire that is down keeps the reading.
    sender.buffer().push({kNow, 31500, 20000});
    sender.poll(clock, 20000);
    sender.disconnected();
    wire.up = false;
    sender.poll(clock, 20001);
    HOLDS(sender.buffer().size() == 1);
    wire.up = true;
    sender.poll(clock, 20002);
    HOLDS(wire.sent.size() == 4 && wire.sent[2] == wire.sent[3]);

    // The buffer runs over while one is in flight: its PUBACK must not take another one away.
    for (int i = 0; i < 3; ++i) sender.buffer().push({kNow + 1000 * (i + 1), 31600 + i, 0});
    sender.acknowledged(4);
    HOLDS(sender.buffer().size() == 3 && sender.buffer().front().milli_units == 31600 && sender.buffer().dropped() == 1);
}

int main() {
    buffer_keeps_the_newest();
    times_are_those_of_the_C_library();
    payloads_are_as_the_notes_say();
    clock_goes_on_through_the_counters_wrap();
    averages_leave_faults_out_unless_they_are_most();
    sender_lets_go_only_what_was_acknowledged();
    return failures == 0 ? 0 : 1;
}
