// SPDX-License-Identifier: GPL-3.0-or-later
// The cut log as CSV: the columns of its definition in their order, every field equal to the frame's figure, RFC 4180's
// line ends, empty fields for what does not exist, and a failing disk that is not lost.

#include "Log/CsvWriter.h"

#include "Tests/Log/Frames.h"

#include <catch2/catch.hpp>
#include <juce_core/juce_core.h>

#include <clocale>
#include <limits>
#include <stdexcept>

using namespace headland;
using namespace headland::log;
using namespace headland::test;

namespace {

/// Rows of an RFC 4180 file, each split at its commas; every row must end in CR LF.
std::vector<juce::StringArray> rowsOf(const std::string& csv) {
    std::vector<juce::StringArray> rows;
    std::size_t start = 0;
    while (start < csv.size()) {
        const auto end = csv.find("\r\n", start);
        REQUIRE(end != std::string::npos);
        juce::StringArray fields;
        fields.addTokens(juce::String::fromUTF8(csv.data() + start, static_cast<int>(end - start)), ",",
                         "\"");
        rows.push_back(fields);
        start = end + 2;
    }
    return rows;
}

juce::StringArray fieldsOf(const cut::CutFrame& frame) {
    std::string text;
    appendCsvRow(text, frame);
    const auto rows = rowsOf(text);
    REQUIRE(rows.size() == 1);
    return rows.front();
}

juce::String field(const cut::CutFrame& frame, const char* name) {
    const auto index = rowsOf(csvNames()).front().indexOf(name);
    REQUIRE(index >= 0);
    return fieldsOf(frame)[index];
}

/// The file that these frames make.
std::string fileOf(const std::vector<cut::CutFrame>& frames) {
    std::string file;
    CsvWriter writer([&file](std::string_view bytes) { file += bytes; });
    for (const auto& frame : frames)
        writer.frame(frame);
    writer.flush();
    return file;
}

} // namespace

TEST_CASE("The first row names the defined columns in their order, then ours") {
    CHECK(csvNames()
          == "time_s,turn,radius_mm,pitch_um,pitch_command_um,depth_um,depth_command_um,land_min_um,"
             "width_min_um,lateral_peak_cm_s,vertical_peak_cm_s,slope_peak,curvature_min_um,state,flags,"
             "demand_um,shortfall_um,peak_dbfs,left_mm,left_min,end_diameter_mm,"
             "end_diameter_uncertainty_mm\r\n");
}

TEST_CASE("Every figure of a frame stands in its own column") {
    auto frame = distinctFrame();
    raise(frame, cut::Flag::overcut);
    raise(frame, cut::Flag::thinLand);
    raise(frame, cut::Flag::badSample);
    std::string row;
    appendCsvRow(row, frame);
    CHECK(row
          == "12.345679,8.250000,145.125000,101.5000,102.2500,26.5000,27.1250,-3.2500,41.7500,6.5000,2.7500,"
             "0.12500,88.5000,program,overcut;thin-land;bad-sample,95.5000,1.5000,-6.500,84.5000,19.5000,130."
             "250,"
             "4.500\r\n");
}

TEST_CASE("A whole side read back equals its frames") {
    const cut::CutSettings settings;
    const auto frames = inventedSide(settings, 40);
    const auto rows = rowsOf(fileOf(frames));
    REQUIRE(rows.size() == frames.size() + 1);
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const auto& row = rows[i + 1];
        REQUIRE(row.size() == rows[0].size());
        REQUIRE(row[0].getDoubleValue() == Approx(frames[i].time_s).margin(0.51e-6));
        REQUIRE(row[2].getDoubleValue() == Approx(frames[i].radius_mm).margin(0.51e-6));
        REQUIRE(row[3].getDoubleValue() == Approx(frames[i].pitch_um).margin(0.51e-4));
        REQUIRE(row[7].isEmpty() == std::isnan(frames[i].landMin_um));
        REQUIRE(row[13] == juce::String(cut::name(frames[i].state).data()));
        REQUIRE(row[14].isEmpty());
    }
}

TEST_CASE("What does not exist is an empty field") {
    auto frame = distinctFrame();
    frame.landMin_um = std::numeric_limits<double>::quiet_NaN();
    frame.curvatureMin_um = std::numeric_limits<double>::infinity();
    frame.peak_dbfs = -std::numeric_limits<double>::infinity();
    CHECK(field(frame, "land_min_um").isEmpty());
    CHECK(field(frame, "curvature_min_um").isEmpty());
    CHECK(field(frame, "peak_dbfs").isEmpty());
    CHECK(field(frame, "width_min_um") == "41.7500");
    CHECK(fieldsOf(frame).size() == 22);
}

TEST_CASE("Numbers are right at the edges of their formatting") {
    auto frame = distinctFrame();
    const auto written = [&frame](double value) {
        frame.demand_um = value; // four places
        return field(frame, "demand_um");
    };
    CHECK(written(0) == "0.0000");
    CHECK(written(-0.00001) == "0.0000");
    CHECK(written(-0.00006) == "-0.0001");
    CHECK(written(0.99996) == "1.0000");
    CHECK(written(0.0501) == "0.0501");
    CHECK(written(-12.03) == "-12.0300");
    CHECK(written(899999999999.5) == "899999999999.5000");
    CHECK(written(1e15) == "1000000000000000.0000");
    CHECK(written(-1e300).length() == 1 + 301 + 5);
}

TEST_CASE("Every state and every flag has its name in the log") {
    auto frame = distinctFrame();
    const std::vector<std::pair<cut::State, const char*>> states{
        {cut::State::leadIn, "lead-in"},   {cut::State::program, "program"},     {cut::State::band, "band"},
        {cut::State::leadOut, "lead-out"}, {cut::State::finishing, "finishing"},
    };
    for (const auto& [state, name] : states) {
        frame.state = state;
        CHECK(field(frame, "state") == name);
    }
    for (int bit = 0; bit < cut::flagCount; ++bit)
        raise(frame, cut::flagAt(bit));
    CHECK(field(frame, "flags")
          == "overcut;thin-land;narrow;lifted;steep;tight;preview-short;limit;bad-sample;"
             "too-deep;past-end;disc-end");
}

TEST_CASE("The locale does not touch the numbers") {
    const std::string before = std::setlocale(LC_ALL, nullptr);
    for (const auto* locale : {"de_DE.UTF-8", "de_DE", "C.UTF-8"}) // whichever there is
        if (std::setlocale(LC_ALL, locale) != nullptr)
            break;
    CHECK(field(distinctFrame(), "pitch_um") == "101.5000");
    std::setlocale(LC_ALL, before.c_str());
}

TEST_CASE("A disk that takes no more is reported between blocks, and nothing is written after") {
    auto calls = 0;
    CsvWriter writer([&calls](std::string_view) {
        ++calls;
        throw std::runtime_error("full");
    });
    CHECK_NOTHROW(writer.check());
    for (int i = 0; i < 2000; ++i) // several pieces
        writer.frame(distinctFrame());
    CHECK(calls == 1);
    CHECK_THROWS_WITH(writer.check(), "full");
    CHECK_THROWS_WITH(writer.flush(), "full");
    CHECK(calls == 1);
}
