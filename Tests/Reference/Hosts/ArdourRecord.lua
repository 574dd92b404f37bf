-- SPDX-License-Identifier: GPL-3.0-or-later
-- Run by Ardour.cmake in Ardour's Lua session, without screen or sound card: a new session records two seconds of the
-- dummy driver's noise, puts the VST3 plug-in on the track, sets its land add to a quarter of the range and saves.

local folder = os.getenv("HEADLAND_SESSION")
local plugin_id = os.getenv("HEADLAND_VST3_ID")
local rate_hz = tonumber(os.getenv("HEADLAND_RATE"))

--- Waits until `condition` holds; fails after 20 s.
local function wait_for(what, condition)
    for _ = 1, 200 do
        if condition() then return end
        sleep(0.1)
    end
    error("Ardour did not come to: " .. what)
end

local backend = AudioEngine:set_backend("None (Dummy)", "", "")
backend:set_device_name("Uniform White Noise")
local session = assert(create_session(folder, "session", rate_hz), "no session")

local track
for added in session:new_audio_track(2, 2, nil, 1, "program", ARDOUR.PresentationInfo.max_order,
                                     ARDOUR.TrackMode.Normal, true):iter() do
    track = added
end
track:set_strict_io(true) -- as many outputs as inputs, whatever other buses the plug-in has
for channel = 0, 1 do
    track:input():nth(channel):disconnect_all()
    track:input():nth(channel):connect("system:capture_" .. channel + 1)
end

track:rec_enable_control():set_value(1, PBD.GroupControlDisposition.UseGroup)
session:maybe_enable_record(true)
wait_for("record enabled", function() return session:record_status() ~= ARDOUR.Session.RecordState.Disabled end)
session:request_roll(ARDOUR.TransportRequestSource.TRS_UI)
wait_for("two seconds recorded", function() return session:transport_sample() > 2 * rate_hz end)
session:request_stop(false, false, ARDOUR.TransportRequestSource.TRS_UI)
wait_for("recording stopped", function()
    return session:transport_stopped() and track:to_track():playlist():region_list():size() == 1
end)

local processor = ARDOUR.LuaAPI.new_plugin(session, plugin_id, ARDOUR.PluginType.VST3, "")
assert(not processor:isnil(), "Ardour finds no VST3 plug-in " .. plugin_id)
assert(track:add_processor_by_index(processor, 0, nil, true) == 0, "the track refuses the plug-in")

local land
for index = 0, processor:to_insert():plugin(0):parameter_count() - 1 do
    if processor:to_insert():plugin(0):parameter_label(index) == "Land add" then land = index end
end
assert(land, "Ardour finds no parameter Land add")
print("headland default " .. ARDOUR.LuaAPI.get_processor_param(processor, land, true))
assert(ARDOUR.LuaAPI.set_processor_param(processor, land, 0.25), "the parameter cannot be set")
wait_for("the parameter set", function()
    return math.abs(ARDOUR.LuaAPI.get_processor_param(processor, land, true) - 0.25) < 1e-6
end)
session:save_state("")
print("headland saved")
close_session()
quit()
