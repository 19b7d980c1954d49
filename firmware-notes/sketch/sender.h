// One reading in flight: published at QoS 1, kept until its PUBACK, and published again when none came. The wire is whatever has
// `int publish(const char* topic, const char* payload, size_t length)`, which returns the packet identifier, or 0 or less when it can't.
#pragma once
#include "payload.h"
#include "probe_clock.h"
#include "reading_buffer.h"

namespace incubation {

template <size_t Capacity, typename Wire>
class Sender {
public:
    static constexpr uint32_t kAgainAfterMs = 15000;

    Sender(Wire& wire, const char* topic, const char* unit) : wire_(wire), topic_(topic), unit_(unit) {}

    ReadingBuffer<Capacity>& buffer() { return buffer_; }

    // Call it from the loop, as often as you like.
    void poll(const ProbeClock& clock, uint32_t counter_ms) {
        if (buffer_.empty()) return;
        if (in_flight_ > 0 && counter_ms - sent_ms_ < kAgainAfterMs) return;
        Reading& reading = buffer_.front();
        // Taken before the clock was set: its time is known now. It keeps that time, so that sending it again changes nothing.
        if (reading.unix_ms == 0 && clock.is_set()) reading.unix_ms = clock.at(reading.taken_ms);
        char payload[96];
        const size_t length = write_payload(payload, sizeof payload, reading.milli_units, unit_, reading.unix_ms);
        in_flight_ = length == 0 ? 0 : wire_.publish(topic_, payload, length);
        number_ = buffer_.front_number();
        sent_ms_ = counter_ms;
    }

    // The client's "published" event: only now is the reading let go. Another identifier is an answer to an earlier attempt.
    void acknowledged(int packet) {
        if (packet <= 0 || packet != in_flight_) return;
        in_flight_ = 0;
        // The buffer may have run over meanwhile, and its oldest be another.
        if (!buffer_.empty() && buffer_.front_number() == number_) buffer_.pop();
    }

    // The connection is gone: what was in flight is sent again at once when it is back.
    void disconnected() { in_flight_ = 0; }

private:
    Wire& wire_;
    const char* topic_;
    const char* unit_;
    ReadingBuffer<Capacity> buffer_;
    int in_flight_ = 0;
    uint32_t number_ = 0, sent_ms_ = 0;
};

}  // namespace incubation
