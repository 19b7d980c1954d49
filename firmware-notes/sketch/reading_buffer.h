// A ring of readings that no PUBACK has come for. When it is full the oldest makes room and is counted: what is newest can still be
// acted on. 1,440 readings of 16 bytes are four hours at ten seconds, in 23 kB.
#pragma once
#include <cstddef>
#include <cstdint>

namespace incubation {

struct Reading {
    int64_t unix_ms;      // 0: the clock was not set yet
    int32_t milli_units;  // thousandths of a degree or of a percent
    uint32_t taken_ms;    // the board's own counter, to give it a time later
};

template <size_t Capacity>
class ReadingBuffer {
public:
    void push(const Reading& reading) {
        if (count_ == Capacity) {
            first_ = (first_ + 1) % Capacity;
            --count_;
            ++dropped_;
        }
        items_[(first_ + count_) % Capacity] = reading;
        ++count_;
        ++pushed_;
    }

    bool empty() const { return count_ == 0; }
    size_t size() const { return count_; }
    uint32_t dropped() const { return dropped_; }

    // Number of the oldest reading, counted from the start: it tells whether the one in flight is still here.
    uint32_t front_number() const { return pushed_ - static_cast<uint32_t>(count_); }

    Reading& front() { return items_[first_]; }

    void pop() {
        if (count_ > 0) {
            first_ = (first_ + 1) % Capacity;
            --count_;
        }
    }

private:
    Reading items_[Capacity] = {};
    size_t first_ = 0, count_ = 0;
    uint32_t pushed_ = 0, dropped_ = 0;
};

}  // namespace incubation
