// SPDX-License-Identifier: GPL-3.0-or-later
// The cut log as CSV (RFC 4180, UTF-8, CR LF, `.` as decimal point): a row of names, then one row a sector. Columns are
// those of the cut log's definition, in its order, then ours. A figure that does not exist (land while there is no
// previous turn, curvature of a straight groove, level of silence) is an empty field. On the engine's thread; writing
// goes out in large pieces.
#pragma once

#include "Cut/CutFrame.h"

#include <exception>
#include <functional>
#include <string>
#include <string_view>

namespace headland::log {

/// Writes rows as frames come.
class CsvWriter : public cut::FrameSink {
public:
    /// Takes the next bytes of the file; may throw.
    using Write = std::function<void(std::string_view)>;

    /// Begins with the row of names.
    explicit CsvWriter(Write write);

    void frame(const cut::CutFrame& frame) noexcept override;

    /// Throws what the writing threw, if it did: frame() itself must not. To be asked between blocks.
    void check() const;

    /// Writes what is still held back; throws what the writing throws.
    void flush();

private:
    Write write;
    std::string held;
    std::exception_ptr failure;
};

/// The row of names, with its line end.
std::string csvNames();

/// Appends the row of one frame, with its line end.
void appendCsvRow(std::string& text, const cut::CutFrame& frame);

} // namespace headland::log
