#include "Console/GrooveSource.h"
namespace headland::console {
SvgDrawing drawGroove(log::BookReader&, std::int64_t, const log::LoggedCut&,
                      const std::optional<std::string>&, double,
                      const std::function<void(double fraction)>&) {
    return SvgDrawing(1, 1);
}
} // namespace headland::console
