// SPDX-License-Identifier: GPL-3.0-or-later
// Objects handed to the audio thread and back: who destroys what and when, alone and with both threads unthrottled.
// The marks in the objects are relaxed atomics: they count, and order nothing that the thread sanitizer looks for.
#include "HandOff/Exchange.h"
#include "Tests/HandOff/Payload.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <thread>
#include <vector>

using headland::handoff::Exchange;

namespace {

constexpr auto relaxed = std::memory_order_relaxed;

/// How often each object, by its number, was destroyed; and how many of them while the audio thread was using them.
struct Deaths {
    explicit Deaths(std::size_t objects) : of(objects) {}
    std::vector<std::atomic<int>> of;
    std::atomic<int> inUse{0};

    long total() const {
        long sum = 0;
        for (const auto& count : of)
            sum += count.load(relaxed);
        return sum;
    }
};

struct Object {
    Object(std::uint64_t number, Deaths& all) : content(headland::test::payload(number)), deaths(all) {}
    ~Object() {
        deaths.of[content.number].fetch_add(1, relaxed);
        deaths.inUse.fetch_add(used.load(relaxed) ? 1 : 0, relaxed);
    }
    Object(const Object&) = delete;
    Object& operator=(const Object&) = delete;

    headland::test::Payload content;
    std::atomic<bool> used{false};
    Deaths& deaths;
};

} // namespace

TEST_CASE("Taken is the newest offer, and an earlier one not taken is destroyed by the next", "[handoff]") {
    Deaths deaths(4);
    {
        Exchange<Object> exchange;
        CHECK(exchange.take() == nullptr);
        CHECK(exchange.current() == nullptr);
        exchange.offer(std::make_unique<Object>(0, deaths));
        CHECK(deaths.of[0] == 0);
        exchange.offer(std::make_unique<Object>(1, deaths));
        CHECK(deaths.of[0] == 1);
        CHECK(exchange.current() == nullptr);
        REQUIRE(exchange.take() != nullptr);
        CHECK(exchange.take()->content.number == 1);
        CHECK(exchange.current() == exchange.take());
        exchange.offer(std::make_unique<Object>(2, deaths));
        exchange.offer(nullptr); // withdrawn
        CHECK(deaths.of[2] == 1);
        CHECK(exchange.take()->content.number == 1);
        CHECK(deaths.of[1] == 0);
    }
    CHECK(deaths.of[1] == 1);
}

TEST_CASE("No offer is taken while the object before lies uncollected", "[handoff]") {
    Deaths deaths(3);
    {
        Exchange<Object> exchange;
        exchange.offer(std::make_unique<Object>(0, deaths));
        exchange.take();
        exchange.offer(std::make_unique<Object>(1, deaths));
        CHECK(exchange.take()->content.number == 1);
        exchange.offer(std::make_unique<Object>(2, deaths));
        CHECK(exchange.take()->content.number == 1);
        CHECK(deaths.total() == 0); // nothing was destroyed by taking
        exchange.collect();
        CHECK(deaths.of[0] == 1);
        CHECK(exchange.take()->content.number == 2);
        exchange.collect();
        exchange.collect();
        CHECK(deaths.of[1] == 1);
    }
    CHECK(deaths.of[0] == 1);
    CHECK(deaths.of[1] == 1);
    CHECK(deaths.of[2] == 1);
}

TEST_CASE("At a switch the newest and the one before are shown to the audio thread, once", "[handoff]") {
    Deaths deaths(3);
    Exchange<Object> exchange;
    std::vector<std::pair<std::uint64_t, std::uint64_t>> switches;
    const auto takeSaying = [&] {
        return exchange.take([&](const Object& newest, const Object& before) {
            switches.emplace_back(newest.content.number, before.content.number);
        });
    };
    exchange.offer(std::make_unique<Object>(0, deaths));
    CHECK(takeSaying()->content.number == 0);
    CHECK(switches.empty()); // there was none before
    exchange.offer(std::make_unique<Object>(1, deaths));
    CHECK(takeSaying()->content.number == 1);
    exchange.offer(std::make_unique<Object>(2, deaths));
    CHECK(takeSaying()->content.number == 1); // nothing collected: no switch
    REQUIRE(switches.size() == 1);
    CHECK(switches[0] == std::pair<std::uint64_t, std::uint64_t>(1, 0));
}

TEST_CASE("What lies in any of the three places goes with the exchange", "[handoff]") {
    Deaths deaths(3);
    {
        Exchange<Object> exchange;
        for (std::uint64_t i = 0; i < 3; ++i) { // one is retired, one in use, one on offer
            exchange.offer(std::make_unique<Object>(i, deaths));
            exchange.take();
        }
        CHECK(deaths.total() == 0);
    }
    CHECK(deaths.total() == 3);
}

TEST_CASE("Of a million objects each is destroyed once, and none in use", "[handoff]") {
    constexpr std::uint64_t last = 1'000'000; // the objects' numbers are 1 … last
    constexpr std::uint64_t meeting = 1000;   // every so many the service thread waits until it is taken
    Deaths deaths(last + 1);
    std::uint64_t torn = 0, wentBack = 0, switches = 0;
    {
        Exchange<Object> exchange;
        std::atomic<std::uint64_t> seen{0};
        std::jthread service([&] {
            for (std::uint64_t i = 1; i <= last; ++i) {
                exchange.offer(std::make_unique<Object>(i, deaths));
                do
                    exchange.collect();
                while (i % meeting == 0 && seen.load(relaxed) != i);
            }
        });
        for (std::uint64_t number = 0; number != last;) {
            auto* object = exchange.take([&](const Object& newest, const Object& before) {
                torn += headland::test::isWhole(newest.content) && headland::test::isWhole(before.content)
                            ? 0
                            : 1;
            });
            if (object == nullptr)
                continue;
            object->used.store(true, relaxed);
            torn += headland::test::isWhole(object->content) ? 0 : 1;
            wentBack += object->content.number < number ? 1 : 0;
            switches += object->content.number > number ? 1 : 0;
            number = object->content.number;
            object->used.store(false, relaxed);
            seen.store(number, relaxed);
        }
    }
    CHECK(torn == 0);
    CHECK(wentBack == 0);
    CHECK(switches >= last / meeting); // both threads were at it
    CHECK(deaths.inUse == 0);
    CHECK(std::all_of(deaths.of.begin() + 1, deaths.of.end(), [](const auto& count) { return count == 1; }));
}
