// SPDX-License-Identifier: GPL-3.0-or-later
// Independent jobs on two threads. A job must not assert: Catch's assertions belong to the test's own thread.
#pragma once

#include <atomic>
#include <cstddef>
#include <thread>

namespace headland::test {

/// Calls job(0) … job(jobs − 1), each once, in no promised order.
template <typename Job>
void inParallel(std::size_t jobs, Job job) {
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t i; (i = next++) < jobs;)
            job(i);
    };
    std::jthread other(work);
    work();
}

} // namespace headland::test
