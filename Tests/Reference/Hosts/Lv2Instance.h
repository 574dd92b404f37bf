// SPDX-License-Identifier: GPL-3.0-or-later
// A small LV2 host on Debian's lilv: loads the built bundle as a stranger would, gives it what it requires, runs it in
// blocks of any length and sends it parameters as patch messages. One thread.
#pragma once

#include <lilv/lilv.h>
#include <lv2/atom/forge.h>
#include <lv2/buf-size/buf-size.h>
#include <lv2/core/lv2.h>
#include <lv2/options/options.h>
#include <lv2/patch/patch.h>
#include <lv2/urid/urid.h>

#include <cstdint>
#include <cstring>
#include <map>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace headland::test {

struct LilvDeleter {
    void operator()(LilvWorld* world) const { lilv_world_free(world); }
    void operator()(LilvNode* node) const { lilv_node_free(node); }
    void operator()(LilvInstance* instance) const { lilv_instance_free(instance); }
    void operator()(LilvState* state) const { lilv_state_free(state); }
};

template <typename T>
using LilvPointer = std::unique_ptr<T, LilvDeleter>;

/// Numbers for URIs, as a host gives them.
class Urids {
public:
    LV2_URID operator[](const std::string& uri) {
        return numbers.emplace(uri, static_cast<LV2_URID>(numbers.size() + 1)).first->second;
    }

    LV2_URID_Map mapFeature() {
        return {this,
                [](LV2_URID_Map_Handle self, const char* uri) { return (*static_cast<Urids*>(self))[uri]; }};
    }
    LV2_URID_Unmap unmapFeature() {
        return {this, [](LV2_URID_Unmap_Handle self, LV2_URID number) -> const char* {
                    for (const auto& [uri, known] : static_cast<Urids*>(self)->numbers)
                        if (known == number)
                            return uri.c_str();
                    return nullptr;
                }};
    }

private:
    std::map<std::string, LV2_URID> numbers;
};

/// A parameter as the bundle's data describe it.
struct Lv2Parameter {
    std::string uri;
    float least;
    float greatest;
    std::map<std::string, float> named; ///< values that have a name, by it
};

/// The one plug-in of a bundle's folder, instantiated and active.
class Lv2Instance {
public:
    static constexpr std::uint32_t blockMax = 1024;
    static constexpr std::uint32_t eventBytes = 65536;

    Lv2Instance(const std::string& bundle, double sampleRate_hz) : world(lilv_world_new()) {
        const LilvPointer<LilvNode> uri(lilv_new_file_uri(world.get(), nullptr, (bundle + "/").c_str()));
        lilv_world_load_bundle(world.get(), uri.get());
        const auto* plugins = lilv_world_get_all_plugins(world.get());
        if (lilv_plugins_size(plugins) != 1)
            throw std::runtime_error("no plug-in in " + bundle);
        plugin = lilv_plugins_get(plugins, lilv_plugins_begin(plugins));
        instance.reset(lilv_plugin_instantiate(plugin, sampleRate_hz, features.data()));
        if (!instance)
            throw std::runtime_error("the plug-in cannot be instantiated");
        connectPorts();
        lilv_instance_activate(instance.get());
    }

    ~Lv2Instance() { lilv_instance_deactivate(instance.get()); }
    Lv2Instance(const Lv2Instance&) = delete;
    Lv2Instance& operator=(const Lv2Instance&) = delete;

    std::uint32_t inputCount() const { return static_cast<std::uint32_t>(inputs.size()); }
    std::uint32_t outputCount() const { return static_cast<std::uint32_t>(outputs.size()); }
    /// To be filled before run(), up to blockMax samples.
    std::vector<float>& input(std::uint32_t channel) { return inputs[channel]; }
    const std::vector<float>& output(std::uint32_t channel) const { return outputs[channel]; }

    /// Delay in samples, as the plug-in's own port reports it after the last run.
    double latency() const { return controls.at(lilv_plugin_get_latency_port_index(plugin)); }

    std::vector<Lv2Parameter> parameters() {
        std::vector<Lv2Parameter> result;
        const auto wanted = uriNode(LV2_PATCH__writable);
        auto* found = lilv_plugin_get_value(plugin, wanted.get());
        LILV_FOREACH(nodes, i, found) {
            const auto* parameter = lilv_nodes_get(found, i);
            result.push_back({lilv_node_as_uri(parameter),
                              number(parameter, LV2_CORE__minimum),
                              number(parameter, LV2_CORE__maximum),
                              {}});
            auto* points =
                lilv_world_find_nodes(world.get(), parameter, uriNode(LV2_CORE__scalePoint).get(), nullptr);
            LILV_FOREACH(nodes, j, points) {
                const auto* point = lilv_nodes_get(points, j);
                result.back().named[text(point, LILV_NS_RDFS "label")] = number(point, LILV_NS_RDF "value");
            }
            lilv_nodes_free(points);
        }
        lilv_nodes_free(found);
        return result;
    }

    /// The value that the bundle's data give this name.
    float valueNamed(const std::string& key, const std::string& name) {
        for (const auto& parameter : parameters())
            if (parameter.uri == uri() + ":" + key)
                return parameter.named.at(name);
        throw std::runtime_error("the bundle has no parameter " + key);
    }

    void run(std::uint32_t sampleCount) {
        eventsOut.atom = {eventBytes - sizeof(LV2_Atom), urids[LV2_ATOM__Chunk]};
        lilv_instance_run(instance.get(), sampleCount);
        eventsIn.clear(urids);
    }

    /// Sends `value` to the parameter with this key with the next run.
    void set(const std::string& key, float value) {
        LV2_Atom_Forge forge;
        auto map = urids.mapFeature();
        lv2_atom_forge_init(&forge, &map);
        lv2_atom_forge_set_buffer(&forge, eventsIn.bytes(), eventBytes);
        LV2_Atom_Forge_Frame sequence;
        LV2_Atom_Forge_Frame object;
        lv2_atom_forge_sequence_head(&forge, &sequence, 0);
        lv2_atom_forge_frame_time(&forge, 0);
        lv2_atom_forge_object(&forge, &object, 0, urids[LV2_PATCH__Set]);
        lv2_atom_forge_key(&forge, urids[LV2_PATCH__property]);
        lv2_atom_forge_urid(&forge, urids[uri() + ":" + key]);
        lv2_atom_forge_key(&forge, urids[LV2_PATCH__value]);
        lv2_atom_forge_float(&forge, value);
        lv2_atom_forge_pop(&forge, &object);
        lv2_atom_forge_pop(&forge, &sequence);
    }

    /// The state as a host writes it into its session.
    std::string savedText() {
        const LilvPointer<LilvState> state(lilv_state_new_from_instance(
            plugin, instance.get(), &map, nullptr, nullptr, nullptr, nullptr, nullptr, nullptr, 0, nullptr));
        auto* text =
            lilv_state_to_string(world.get(), &map, &unmap, state.get(), "urn:headland:test", nullptr);
        const std::string result = text;
        lilv_free(text);
        return result;
    }

    void restore(const std::string& text) {
        const LilvPointer<LilvState> state(lilv_state_new_from_string(world.get(), &map, text.c_str()));
        if (!state)
            throw std::runtime_error("lilv cannot read the state back");
        lilv_state_restore(state.get(), instance.get(), nullptr, nullptr, 0, nullptr);
    }

private:
    /// A buffer for events; holds an empty sequence unless something is to be sent.
    union Events {
        LV2_Atom atom;
        LV2_Atom_Sequence sequence;
        alignas(8) std::uint8_t data[eventBytes];

        std::uint8_t* bytes() { return data; }
        void clear(Urids& urids) {
            sequence.atom = {sizeof(LV2_Atom_Sequence_Body), urids[LV2_ATOM__Sequence]};
            sequence.body = {0, 0};
        }
    };

    std::string uri() const { return lilv_node_as_uri(lilv_plugin_get_uri(plugin)); }

    LilvPointer<LilvNode> uriNode(const char* text) {
        return LilvPointer<LilvNode>(lilv_new_uri(world.get(), text));
    }

    LilvPointer<LilvNode> value(const LilvNode* subject, const char* property) {
        LilvPointer<LilvNode> node(lilv_world_get(world.get(), subject, uriNode(property).get(), nullptr));
        if (!node)
            throw std::runtime_error(std::string("the bundle does not say ") + property);
        return node;
    }

    float number(const LilvNode* subject, const char* property) {
        return lilv_node_as_float(value(subject, property).get());
    }

    std::string text(const LilvNode* subject, const char* property) {
        return lilv_node_as_string(value(subject, property).get());
    }

    bool isA(const LilvPort* port, const char* type) {
        const auto node = uriNode(type);
        return lilv_port_is_a(plugin, port, node.get());
    }

    void connectPorts() {
        const auto count = lilv_plugin_get_num_ports(plugin);
        std::vector<float> defaults(count);
        lilv_plugin_get_port_ranges_float(plugin, nullptr, nullptr, defaults.data());
        eventsIn.clear(urids);
        for (std::uint32_t index = 0; index < count; ++index) {
            const auto* port = lilv_plugin_get_port_by_index(plugin, index);
            const auto isInput = isA(port, LV2_CORE__InputPort);
            if (isA(port, LV2_CORE__AudioPort)) {
                auto& channels = isInput ? inputs : outputs;
                channels.emplace_back(blockMax);
                lilv_instance_connect_port(instance.get(), index, channels.back().data());
            } else if (isA(port, LV2_CORE__ControlPort)) {
                controls[index] = defaults[index];
                lilv_instance_connect_port(instance.get(), index, &controls[index]);
            } else {
                lilv_instance_connect_port(instance.get(), index, isInput ? &eventsIn : &eventsOut);
            }
        }
    }

    LilvPointer<LilvWorld> world;
    const LilvPlugin* plugin = nullptr;
    Urids urids;
    LV2_URID_Map map = urids.mapFeature();
    LV2_URID_Unmap unmap = urids.unmapFeature();
    std::int32_t blockMaxOption = blockMax;
    std::vector<LV2_Options_Option> options = {{LV2_OPTIONS_INSTANCE, 0, urids[LV2_BUF_SIZE__maxBlockLength],
                                                sizeof(std::int32_t), urids[LV2_ATOM__Int], &blockMaxOption},
                                               {LV2_OPTIONS_INSTANCE, 0, 0, 0, 0, nullptr}};
    LV2_Feature mapFeature{LV2_URID__map, &map};
    LV2_Feature unmapFeature{LV2_URID__unmap, &unmap};
    LV2_Feature optionsFeature{LV2_OPTIONS__options, options.data()};
    LV2_Feature boundedFeature{LV2_BUF_SIZE__boundedBlockLength, nullptr};
    std::vector<const LV2_Feature*> features = {&mapFeature, &unmapFeature, &optionsFeature, &boundedFeature,
                                                nullptr};
    Events eventsIn;
    Events eventsOut;
    std::vector<std::vector<float>> inputs;
    std::vector<std::vector<float>> outputs;
    std::map<std::uint32_t, float> controls;
    LilvPointer<LilvInstance> instance; // last: goes first, while what it points to is still there
};

} // namespace headland::test
