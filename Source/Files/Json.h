// SPDX-License-Identifier: GPL-3.0-or-later
// JSON (RFC 8259) in and out, by nlohmann-json: members keep their order, numbers come back to the same bits. What the RFC
// leaves open is closed: a name that stands twice in an object, anything behind the document and deep nesting are refused.
// Any thread but the audio thread.
#pragma once

#include <nlohmann/json.hpp>

#include <stdexcept>
#include <string>
#include <string_view>

namespace headland::files {

using Json = nlohmann::ordered_json;

/// Why a text cannot be read: half a sentence with line, column and byte, without a full stop.
class JsonError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// How deep arrays and objects may lie in one another: presets and states need two.
inline constexpr int jsonDepthMax = 16;

/// The whole of `text` as one document. Throws JsonError.
Json readJson(std::string_view text);

/// The document as indented text with a line end behind it, always valid: what is no UTF-8 becomes U+FFFD, a number that is not
/// finite null.
std::string jsonText(const Json& document);

/// The same for a person's or a program's eyes: every name and text in it printable() first.
std::string reportText(const Json& document);

} // namespace headland::files
