// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/Json.h"

#include "Text/Safe.h"

#include <algorithm>
#include <set>
#include <sstream>
#include <vector>

namespace headland::files {

namespace {

/// "line 3, column 14 (byte 57)"; `byte` counted from 1.
std::string placeOf(std::string_view text, std::size_t byte) {
    const auto before = text.substr(0, std::min(text.size(), byte == 0 ? 0 : byte - 1));
    const auto lineStart = before.find_last_of('\n') + 1; // 0 where there is none
    return "line " + std::to_string(std::count(before.begin(), before.end(), '\n') + 1) + ", column "
           + std::to_string(before.size() - lineStart + 1) + " (byte " + std::to_string(byte) + ")";
}

/// Looks at a document while it is read, and stops the reading by throwing.
class Watch {
public:
    explicit Watch(std::string_view text) : text(text), stream(std::string(text)) {}

    std::istream& input() noexcept { return stream; }

    void event(int depth, Json::parse_event_t event, const Json& value) {
        using Event = Json::parse_event_t;
        if ((event == Event::object_start || event == Event::array_start) && depth >= jsonDepthMax)
            refuse("arrays and objects lie more than " + std::to_string(jsonDepthMax) + " deep");
        if (event == Event::object_start)
            names.emplace_back();
        else if (event == Event::object_end)
            names.pop_back();
        else if (event == Event::key && !names.back().insert(value.get<std::string>()).second)
            refuse("'" + text::printable(value.get<std::string>()) + "' stands twice in one {…}");
    }

private:
    [[noreturn]] void refuse(const std::string& why) {
        const auto read = stream.rdbuf()->pubseekoff(0, std::ios::cur, std::ios::in);
        throw JsonError(why + ", at " + placeOf(text, static_cast<std::size_t>(std::streamoff(read))));
    }

    std::string_view text;
    std::istringstream stream;
    std::vector<std::set<std::string>> names; // of the objects that are open
};

Json printableOf(const Json& value) {
    if (value.is_string())
        return text::printable(value.get_ref<const std::string&>());
    if (!value.is_structured())
        return value;
    Json made(value.type());
    for (const auto& [name, member] : value.items())
        if (value.is_object())
            made[text::printable(name)] = printableOf(member);
        else
            made.push_back(printableOf(member));
    return made;
}

} // namespace

Json readJson(std::string_view text) {
    Watch watch(text);
    const auto event = [&watch](int depth, Json::parse_event_t event, Json& value) {
        watch.event(depth, event, value);
        return true;
    };
    try {
        return Json::parse(watch.input(), event);
    } catch (const Json::parse_error& error) {
        throw JsonError(placeOf(text, error.byte)
                        + " does not belong there; look for a comma, quote or bracket too many or too few");
    } catch (const Json::out_of_range&) {
        throw JsonError("one of its numbers is too great for any computer's arithmetic");
    }
}

std::string jsonText(const Json& document) {
    return document.dump(4, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string reportText(const Json& document) {
    return jsonText(printableOf(document));
}

} // namespace headland::files
