// SPDX-License-Identifier: GPL-3.0-or-later
// A processor as a window sees it. Made with the processor and kept as long as it: what it knows survives a closed window.
// Main thread.
#pragma once

#include "Assembly/CutBook.h"
#include "Editor/Access.h"
#include "Files/KeptFiles.h"
#include "Plugin/Processor.h"

#include <deque>

namespace headland::assembly {

/// A parameter's exact value behind a field.
class ParameterValue final : public editor::FieldValue {
public:
    explicit ParameterValue(plugin::SettingParameter& p) : parameter(p) {}
    double get() const override { return parameter.value(); }
    void set(double wanted) override { parameter.setExactlyNotifyingHost(wanted); }
    void beginGesture() override { parameter.beginChangeGesture(); }
    void endGesture() override { parameter.endChangeGesture(); }

private:
    plugin::SettingParameter& parameter;
};

class ProcessorAccess : public editor::Access {
public:
    /// Takes the processor's journal. `madeBy`: who cuts, as books say it.
    ProcessorAccess(plugin::Processor& processor, const std::string& madeBy);

    editor::Glimpse look() override;
    editor::CutNews news(std::uint32_t cut, std::size_t seen) override { return book.news(cut, seen); }
    bool foresee(plan::Foresight& coming) override { return processor.service().foresee(coming); }
    std::optional<cut::GroovePatch> grooveAtStylus(double halfLength_mm) override {
        return book.grooveAtStylus(halfLength_mm);
    }
    std::optional<cut::GroovePatch> grooveKept(double time_s, double within_s) override {
        return book.grooveKept(time_s, within_s);
    }
    std::vector<editor::Field> fields() override { return fields_; }
    void cue(cut::Cue cue) override { processor.cue(cue); }
    std::vector<std::string> presetNames() override;
    Refusal loadPreset(const std::string& nameOrFile) override;
    Refusal savePreset(const std::string& file) override;
    std::string oscHost() override;
    Refusal sendOscTo(const std::string& host) override;
    Refusal logInto(const std::string& path) override;
    Refusal nameSide(const log::SideName& side) override;
    Refusal listen(bool wanted) override;
    void mark() override { processor.mark(); }
    Refusal note(const editor::NotePlace& place, const std::string& text) override;

    /// What no file that is written may take the place of: the program, the book, and the programs it names.
    virtual files::KeptFiles keptFiles();

protected:
    plugin::Processor& processor;
    CutBook& book; ///< the service's

private:
    template <typename Table, typename IsRidden>
    void addFields(const Table& table, IsRidden isRidden);
    void choose(const plugin::BookChoice& wanted);

    std::deque<ParameterValue> values; // where they are, they stay
    std::vector<editor::Field> fields_;
};

/// A processor with its window, as the plug-in formats make it.
std::unique_ptr<plugin::Processor> makeProcessor();

} // namespace headland::assembly
