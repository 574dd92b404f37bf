// SPDX-License-Identifier: GPL-3.0-or-later
// The queue between two threads: order and limits alone, then a million values as fast as both threads can.
// The reader's thread checks each value and only counts; Catch asserts when both threads are done.
#include "HandOff/Queue.h"
#include "Tests/HandOff/Payload.h"

#include <catch2/catch.hpp>
#include <thread>

using headland::handoff::Queue;
using headland::test::isWhole;
using headland::test::Payload;
using headland::test::payload;

namespace {

constexpr std::uint64_t items = 1'000'000;

/// What a reader saw: how many values came, how many of them torn, and how many not after the one before.
struct Seen {
    std::uint64_t count = 0, torn = 0, outOfOrder = 0, last = 0;

    void take(const Payload& got) {
        ++count;
        torn += isWhole(got) ? 0 : 1;
        outOfOrder += got.number > last ? 0 : 1;
        last = got.number;
    }
};

/// Pushes 1 … count, each until it is taken; nothing waits but for room.
void pushAll(Queue<Payload>& queue, std::uint64_t count) {
    for (std::uint64_t i = 1; i <= count; ++i)
        for (const auto next = payload(i); !queue.push(next);)
            std::this_thread::yield();
}

/// Sends so many values through a queue; takeSome(queue, seen) takes some, and says whether there were any.
template <typename TakeSome>
void expectAllThrough(std::size_t capacity, std::uint64_t count, TakeSome takeSome) {
    Queue<Payload> queue(capacity);
    std::jthread producer([&] { pushAll(queue, count); });
    Seen seen;
    while (seen.last != count)
        if (!takeSome(queue, seen))
            std::this_thread::yield();
    producer.join();
    CHECK(seen.count == count);
    CHECK(seen.torn == 0);
    CHECK(seen.outOfOrder == 0);
}

} // namespace

TEST_CASE("The queue's capacity is the next power of two", "[handoff]") {
    CHECK(Queue<int>(0).capacity() == 1);
    CHECK(Queue<int>(1).capacity() == 1);
    CHECK(Queue<int>(5).capacity() == 8);
    CHECK(Queue<int>(1024).capacity() == 1024);
}

TEST_CASE("The queue gives back what was put in, in order, and refuses and counts what does not fit",
          "[handoff]") {
    const auto capacity = GENERATE(1u, 2u, 8u);
    Queue<int> queue(capacity);
    int got = -7;
    CHECK_FALSE(queue.pop(got));
    CHECK(got == -7);
    auto next = 0;
    for (auto round = 1u; round <= 20; ++round) {
        INFO("round " << round << ", capacity " << capacity);
        const auto first = next;
        for (auto i = 0u; i < capacity; ++i)
            REQUIRE(queue.push(next++));
        CHECK_FALSE(queue.push(-1));
        CHECK(queue.refused() == round);
        for (auto i = 0u; i < capacity; ++i) {
            REQUIRE(queue.pop(got));
            CHECK(got == first + static_cast<int>(i));
        }
        CHECK_FALSE(queue.pop(got));
    }
}

TEST_CASE("Draining takes as many as there are and as there is room for", "[handoff]") {
    Queue<int> queue(8);
    std::vector<int> room(5, -1);
    CHECK(queue.drain(room) == 0);
    CHECK(room == std::vector<int>(5, -1));
    auto pushed = 0, taken = 0;
    for (auto round = 0; round < 20; ++round) { // 7 in, 5 and 2 out: every place in the ring is a first one
        for (auto i = 0; i < 7; ++i)
            REQUIRE(queue.push(pushed++));
        REQUIRE(queue.drain(room) == 5);
        for (auto value : room)
            CHECK(value == taken++);
        REQUIRE(queue.drain(room) == 2);
        CHECK(room[0] == taken++);
        CHECK(room[1] == taken++);
        CHECK(room[2] == taken - 5); // beyond the two: left as it was
    }
    CHECK(queue.drain({}) == 0);
    CHECK(queue.refused() == 0);
}

TEST_CASE("A million values go through the queue whole, in order, none lost or doubled", "[handoff]") {
    // The threads take turns each time it is full or empty: fewer values where there is little room, as many turns.
    for (const auto& [capacity, count] : {std::pair{1u, items / 128}, {8u, items / 16}, {1024u, items}}) {
        INFO("capacity " << capacity);
        Payload got;
        expectAllThrough(capacity, count, [&](Queue<Payload>& queue, Seen& seen) {
            const auto any = queue.pop(got);
            if (any)
                seen.take(got);
            return any;
        });
    }
}

TEST_CASE("A million values are drained whole, in order, none lost or doubled", "[handoff]") {
    std::vector<Payload> room(24);
    expectAllThrough(64, items, [&](Queue<Payload>& queue, Seen& seen) {
        const auto count = queue.drain(room);
        for (std::size_t i = 0; i < count; ++i)
            seen.take(room[i]);
        return count > 0;
    });
}

TEST_CASE("A producer that never waits loses what is refused, and nothing else", "[handoff]") {
    Queue<Payload> queue(8);
    std::uint64_t accepted = 0;
    std::jthread producer([&] {
        for (std::uint64_t i = 1; i < items; ++i)
            accepted += queue.push(payload(i)) ? 1 : 0;
        for (const auto end = payload(items); !queue.push(end);)
            std::this_thread::yield();
        ++accepted;
    });
    Seen seen;
    for (Payload got; seen.last != items;)
        if (queue.pop(got))
            seen.take(got);
    const auto refusedSeen = queue.refused(); // from the other thread, which may still be at it
    producer.join();
    CHECK(seen.count == accepted);
    CHECK(queue.refused() >= items - accepted); // more by the attempts at the last one
    CHECK(queue.refused() >= refusedSeen);
    CHECK(seen.torn == 0);
    CHECK(seen.outOfOrder == 0);
}
