// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/OpenOutputs.h"

#include "Console/Outputs.h"
#include "Console/PngPicture.h"

namespace headland::console {

OpenOutputs::OpenOutputs(const ProgramRequest& request, const files::KeptFiles& kept) {
    if (request.csv)
        csv.emplace(*request.csv, kept);
    if (request.json)
        json.emplace(*request.json, kept);
    if (request.picture)
        picture.emplace(*request.picture, kept);
}

void OpenOutputs::commit() {
    for (auto* file : {&csv, &json, &picture})
        if (file->has_value())
            (*file)->commit();
}

void writeDrawing(files::OutputFile& file, const SvgDrawing& drawing) {
    file.write(pictureFormat(file.path()) == PictureFormat::svg ? drawing.toText() : pngBytes(drawing));
}

} // namespace headland::console
