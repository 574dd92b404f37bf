// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/OpenOutputs.h"

#include "Console/PngPicture.h"

namespace headland::console {

OpenOutputs::OpenOutputs(const OutputPaths& paths, const files::KeptFiles& kept) {
    if (paths.csv)
        csv.emplace(*paths.csv, kept);
    if (paths.json)
        json.emplace(*paths.json, kept);
    if (paths.picture)
        picture.emplace(*paths.picture, kept);
    if (paths.profile)
        profile.emplace(*paths.profile, kept);
}

void OpenOutputs::commit() {
    for (auto* file : {&csv, &json, &picture, &profile})
        if (file->has_value())
            (*file)->commit();
}

void writeDrawing(files::OutputFile& file, const SvgDrawing& drawing) {
    file.write(pictureFormat(file.path()) == PictureFormat::svg ? drawing.toText() : pngBytes(drawing));
}

} // namespace headland::console
