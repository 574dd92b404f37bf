-- SPDX-License-Identifier: GPL-3.0-or-later
-- Run by Ardour.cmake: loads the session that ArdourRecord.lua saved, in a process of its own, prints what the plug-in's
-- land add and latency are now and renders the recording through the plug-in, to the files "rendered".

AudioEngine:set_backend("None (Dummy)", "", "")
local session = assert(load_session(os.getenv("HEADLAND_SESSION"), "session"), "no session")
local plugin = session:route_by_name("program"):nth_plugin(0)
assert(not plugin:isnil(), "Ardour did not bring the plug-in back")
for index = 0, plugin:to_insert():plugin(0):parameter_count() - 1 do
    if plugin:to_insert():plugin(0):parameter_label(index) == "Land add" then
        print("headland restored " .. ARDOUR.LuaAPI.get_processor_param(plugin, index, true))
    end
end

local track = session:route_by_name("program"):to_track()
local length
for region in track:playlist():region_list():iter() do length = region:length():samples() end
local rendered = track:bounce_range(0, length, ARDOUR.InterThreadInfo(), plugin, true, "rendered")
assert(not rendered:isnil() and rendered:length():samples() == length, "Ardour did not render the track")
print("headland latency " .. plugin:to_insert():signal_latency())
print("headland rendered")
close_session()
quit()
