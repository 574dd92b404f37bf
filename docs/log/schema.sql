CREATE TABLE job(
    id INTEGER PRIMARY KEY,
    title TEXT NOT NULL UNIQUE,
    made_utc TEXT NOT NULL);
CREATE TABLE side(
    id INTEGER PRIMARY KEY,
    job_id INTEGER NOT NULL REFERENCES job(id),
    name TEXT NOT NULL,
    UNIQUE(job_id, name));
CREATE TABLE program(
    id INTEGER PRIMARY KEY,
    path TEXT NOT NULL,
    format TEXT NOT NULL,
    sample_rate_hz REAL NOT NULL,
    channels INTEGER NOT NULL,
    length_frames INTEGER NOT NULL,
    UNIQUE(path, format, sample_rate_hz, channels, length_frames));
CREATE TABLE setting_list(id INTEGER PRIMARY KEY);
CREATE TABLE setting(
    list_id INTEGER NOT NULL REFERENCES setting_list(id),
    key TEXT NOT NULL,
    value NOT NULL,
    PRIMARY KEY(list_id, key)) WITHOUT ROWID;
CREATE TABLE cut(
    id INTEGER PRIMARY KEY,
    side_id INTEGER NOT NULL REFERENCES side(id),
    answers_cut_id INTEGER REFERENCES cut(id),
    made_by TEXT NOT NULL,
    headland_version TEXT NOT NULL,
    program_id INTEGER REFERENCES program(id),
    setting_list_id INTEGER NOT NULL REFERENCES setting_list(id),
    sample_rate_hz REAL NOT NULL,
    preview TEXT NOT NULL,
    begun_utc TEXT NOT NULL,
    written_utc TEXT NOT NULL,
    ended_utc TEXT,
    ending TEXT,
    fault INTEGER,
    bad_samples INTEGER,
    bad_sample_first_s REAL, scrap TEXT, end_diameter_mm REAL, profile_id INTEGER REFERENCES profile(id));
CREATE INDEX cut_of_side ON cut(side_id);
CREATE TABLE event(
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    number INTEGER NOT NULL,
    before_frame INTEGER NOT NULL,
    time_s REAL,
    kind TEXT NOT NULL,
    what TEXT NOT NULL,
    value REAL,
    PRIMARY KEY(cut_id, number)) WITHOUT ROWID;
CREATE TABLE note(
    id INTEGER PRIMARY KEY,
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    time_s REAL,
    written_utc TEXT NOT NULL,
    kind TEXT NOT NULL CHECK(kind IN ('mark', 'note')),
    text TEXT NOT NULL, deleted_utc TEXT);
CREATE INDEX note_of_cut ON note(cut_id);
CREATE TABLE gap(
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    first_frame INTEGER NOT NULL,
    last_frame INTEGER NOT NULL,
    from_s REAL,
    to_s REAL,
    why TEXT NOT NULL,
    PRIMARY KEY(cut_id, first_frame)) WITHOUT ROWID;
CREATE TABLE place(
    id INTEGER PRIMARY KEY,
    cut_id INTEGER NOT NULL REFERENCES cut(id),
    flag INTEGER NOT NULL REFERENCES flag(bit),
    time_s REAL NOT NULL,
    start_radius_mm REAL NOT NULL,
    step_rad REAL NOT NULL,
    points INTEGER NOT NULL);
CREATE INDEX place_of_cut ON place(cut_id);
CREATE TABLE edge(
    place_id INTEGER NOT NULL REFERENCES place(id),
    turn INTEGER NOT NULL,
    point INTEGER NOT NULL,
    outer_nm INTEGER,
    inner_nm INTEGER,
    PRIMARY KEY(place_id, turn, point)) WITHOUT ROWID;
CREATE TABLE rehearsal(
    id INTEGER PRIMARY KEY,
    side_id INTEGER NOT NULL REFERENCES side(id),
    made_by TEXT NOT NULL,
    headland_version TEXT NOT NULL,
    made_utc TEXT NOT NULL,
    program_id INTEGER NOT NULL REFERENCES program(id),
    setting_list_id INTEGER NOT NULL REFERENCES setting_list(id),
    varied TEXT NOT NULL,
    can_be_cut INTEGER NOT NULL,
    verdict TEXT NOT NULL,
    side_length_s REAL NOT NULL,
    end_diameter_mm REAL NOT NULL,
    used_mm REAL NOT NULL,
    pitch_mean_um REAL NOT NULL,
    land_least_um REAL,
    width_least_um REAL,
    slope_greatest REAL,
    curvature_least_um REAL,
    shortfall_greatest_um REAL);
CREATE INDEX rehearsal_of_side ON rehearsal(side_id);
CREATE TABLE stylus_state(code INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE flag(bit INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE frame(cut_id INTEGER NOT NULL REFERENCES cut(id), number INTEGER NOT NULL, state INTEGER NOT NULL, flags INTEGER NOT NULL, length_known INTEGER NOT NULL, time_s_e6, turn_e6, radius_mm_e6, pitch_um_e4, pitch_command_um_e4, depth_um_e4, depth_command_um_e4, land_min_um_e4, width_min_um_e4, lateral_peak_cm_s_e4, vertical_peak_cm_s_e4, slope_peak_e5, curvature_min_um_e4, demand_um_e4, shortfall_um_e4, peak_dbfs_e3, left_mm_e4, left_min_e4, end_diameter_mm_e3, end_diameter_uncertainty_mm_e3, used_mm_e4, used_cm2_e3, left_cm2_e3, outer_swing_um_e4, inner_swing_um_e4, lift_um_e4, depth_peak_um_e4, PRIMARY KEY(cut_id, number)) WITHOUT ROWID;
CREATE VIEW cut_log AS SELECT cut_id, number, CASE typeof(time_s_e6) WHEN 'real' THEN time_s_e6 ELSE time_s_e6 / 1e6 END AS time_s, CASE typeof(turn_e6) WHEN 'real' THEN turn_e6 ELSE turn_e6 / 1e6 END AS turn, CASE typeof(radius_mm_e6) WHEN 'real' THEN radius_mm_e6 ELSE radius_mm_e6 / 1e6 END AS radius_mm, CASE typeof(pitch_um_e4) WHEN 'real' THEN pitch_um_e4 ELSE pitch_um_e4 / 1e4 END AS pitch_um, CASE typeof(pitch_command_um_e4) WHEN 'real' THEN pitch_command_um_e4 ELSE pitch_command_um_e4 / 1e4 END AS pitch_command_um, CASE typeof(depth_um_e4) WHEN 'real' THEN depth_um_e4 ELSE depth_um_e4 / 1e4 END AS depth_um, CASE typeof(depth_command_um_e4) WHEN 'real' THEN depth_command_um_e4 ELSE depth_command_um_e4 / 1e4 END AS depth_command_um, CASE typeof(land_min_um_e4) WHEN 'real' THEN land_min_um_e4 ELSE land_min_um_e4 / 1e4 END AS land_min_um, CASE typeof(width_min_um_e4) WHEN 'real' THEN width_min_um_e4 ELSE width_min_um_e4 / 1e4 END AS width_min_um, CASE typeof(lateral_peak_cm_s_e4) WHEN 'real' THEN lateral_peak_cm_s_e4 ELSE lateral_peak_cm_s_e4 / 1e4 END AS lateral_peak_cm_s, CASE typeof(vertical_peak_cm_s_e4) WHEN 'real' THEN vertical_peak_cm_s_e4 ELSE vertical_peak_cm_s_e4 / 1e4 END AS vertical_peak_cm_s, CASE typeof(slope_peak_e5) WHEN 'real' THEN slope_peak_e5 ELSE slope_peak_e5 / 1e5 END AS slope_peak, CASE typeof(curvature_min_um_e4) WHEN 'real' THEN curvature_min_um_e4 ELSE curvature_min_um_e4 / 1e4 END AS curvature_min_um, (SELECT name FROM stylus_state WHERE code = frame.state) AS state, (SELECT group_concat(name, ';') FROM (SELECT name FROM flag WHERE frame.flags & (1 << bit) ORDER BY bit)) AS flags, CASE typeof(demand_um_e4) WHEN 'real' THEN demand_um_e4 ELSE demand_um_e4 / 1e4 END AS demand_um, CASE typeof(shortfall_um_e4) WHEN 'real' THEN shortfall_um_e4 ELSE shortfall_um_e4 / 1e4 END AS shortfall_um, CASE typeof(peak_dbfs_e3) WHEN 'real' THEN peak_dbfs_e3 ELSE peak_dbfs_e3 / 1e3 END AS peak_dbfs, CASE typeof(left_mm_e4) WHEN 'real' THEN left_mm_e4 ELSE left_mm_e4 / 1e4 END AS left_mm, CASE typeof(left_min_e4) WHEN 'real' THEN left_min_e4 ELSE left_min_e4 / 1e4 END AS left_min, CASE typeof(end_diameter_mm_e3) WHEN 'real' THEN end_diameter_mm_e3 ELSE end_diameter_mm_e3 / 1e3 END AS end_diameter_mm, CASE typeof(end_diameter_uncertainty_mm_e3) WHEN 'real' THEN end_diameter_uncertainty_mm_e3 ELSE end_diameter_uncertainty_mm_e3 / 1e3 END AS end_diameter_uncertainty_mm FROM frame
/* cut_log(cut_id,number,time_s,turn,radius_mm,pitch_um,pitch_command_um,depth_um,depth_command_um,land_min_um,width_min_um,lateral_peak_cm_s,vertical_peak_cm_s,slope_peak,curvature_min_um,state,flags,demand_um,shortfall_um,peak_dbfs,left_mm,left_min,end_diameter_mm,end_diameter_uncertainty_mm) */;
CREATE TABLE note_revision(
    note_id INTEGER NOT NULL REFERENCES note(id),
    number INTEGER NOT NULL,
    written_utc TEXT NOT NULL,
    text TEXT NOT NULL,
    PRIMARY KEY(note_id, number)) WITHOUT ROWID;
CREATE VIEW cut_list AS
    SELECT cut.id, job.title AS job, side.name AS side, cut.begun_utc, cut.ended_utc, cut.ending, cut.made_by,
        (SELECT count(*) FROM frame WHERE frame.cut_id = cut.id) AS frames,
        (SELECT count(*) FROM note WHERE note.cut_id = cut.id AND note.deleted_utc IS NULL) AS notes,
        cut.answers_cut_id, cut.scrap, cut.end_diameter_mm
    FROM cut JOIN side ON side.id = cut.side_id JOIN job ON job.id = side.job_id
/* cut_list(id,job,side,begun_utc,ended_utc,ending,made_by,frames,notes,answers_cut_id,scrap,end_diameter_mm) */;
CREATE TABLE profile(id INTEGER PRIMARY KEY, made_utc TEXT NOT NULL, size_bytes INTEGER NOT NULL);
CREATE TABLE profile_piece(
    profile_id INTEGER NOT NULL REFERENCES profile(id),
    number INTEGER NOT NULL,
    bytes BLOB NOT NULL,
    PRIMARY KEY(profile_id, number));
INSERT INTO stylus_state VALUES(1,'lead-in');
INSERT INTO stylus_state VALUES(2,'program');
INSERT INTO stylus_state VALUES(3,'band');
INSERT INTO stylus_state VALUES(4,'lead-out');
INSERT INTO stylus_state VALUES(5,'finishing');
INSERT INTO flag VALUES(0,'overcut');
INSERT INTO flag VALUES(1,'thin-land');
INSERT INTO flag VALUES(2,'narrow');
INSERT INTO flag VALUES(3,'lifted');
INSERT INTO flag VALUES(4,'steep');
INSERT INTO flag VALUES(5,'tight');
INSERT INTO flag VALUES(6,'preview-short');
INSERT INTO flag VALUES(7,'limit');
INSERT INTO flag VALUES(8,'bad-sample');
INSERT INTO flag VALUES(9,'too-deep');
INSERT INTO flag VALUES(10,'past-end');
INSERT INTO flag VALUES(11,'disc-end');
PRAGMA application_id = 1214540898;
PRAGMA user_version = 4;
