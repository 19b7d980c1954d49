// Mean of the samples of a short time. Faults of the sensor are left out; when most samples are faults, the fault itself is reported,
// for the service shows and judges it. Samples on both sides of a gap are never averaged: whoever samples calls `take` after it.
#pragma once
#include <cstdint>

namespace incubation {

class Averager {
public:
    static constexpr int32_t kDisconnected = -127000;  // what the DS18B20 libraries return when the bus does not answer

    void add(int32_t milli) {
        if (milli == kDisconnected) {
            ++faults_;
        } else {
            sum_ += milli;
            ++good_;
        }
    }

    // The mean, rounded to the nearest thousandth; false when there was no sample. Begins afresh.
    bool take(int32_t& milli) {
        const bool any = good_ + faults_ > 0;
        if (any) {
            milli = faults_ >= good_ ? kDisconnected : static_cast<int32_t>((sum_ + (sum_ < 0 ? -good_ : good_) / 2) / good_);
        }
        sum_ = 0;
        good_ = faults_ = 0;
        return any;
    }

private:
    int64_t sum_ = 0;
    int32_t good_ = 0, faults_ = 0;
};

}  // namespace incubation
