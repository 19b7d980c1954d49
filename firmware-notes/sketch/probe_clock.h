// The board's idea of the time: what a time server said last, carried on by the board's millisecond counter, which starts at 0 with the
// power and wraps after 49.7 days. Until it was set, readings carry no time; once it is, those still in the buffer get theirs.
#pragma once
#include <cstdint>

namespace incubation {

class ProbeClock {
public:
    // 2020-01-01: an earlier answer is a server's mistake or no answer, and the service would not believe it either.
    static constexpr int64_t kEarliestMs = 1577836800000LL;

    bool is_set() const { return set_; }

    // Call it with each answer of the time server, at least once a day. False when the answer can't be right.
    bool set(int64_t unix_ms, uint32_t counter_ms) {
        if (unix_ms < kEarliestMs) return false;
        unix_ms_ = unix_ms;
        counter_ms_ = counter_ms;
        set_ = true;
        return true;
    }

    // Call it now and then, and at least every 24 days, so that the counter's wrap is never missed.
    void keep(uint32_t counter_ms) {
        if (set_) set(at(counter_ms), counter_ms);
    }

    // Time at a moment of the counter, up to 24 days before or after the last set; 0 while the clock is not set.
    int64_t at(uint32_t counter_ms) const {
        return set_ ? unix_ms_ + static_cast<int32_t>(counter_ms - counter_ms_) : 0;
    }

private:
    int64_t unix_ms_ = 0;
    uint32_t counter_ms_ = 0;
    bool set_ = false;
};

}  // namespace incubation
