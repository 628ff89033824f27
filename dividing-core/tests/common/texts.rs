//! Documents as text, whole but for one part that a test puts in.

/// A pin in holes that fit it.
pub(crate) const PIN: &str =
    r#""pin_diameter":5.98,"hole_diameter":6,"hole_position_tolerance":0.02"#;

pub(crate) fn workshop_with(pieces: &str) -> String {
    format!(r#"{{"format":1,"name":"Bench","equipment":[{pieces}]}}"#)
}

pub(crate) fn plate_with(fields: &str) -> String {
    workshop_with(&format!(
        r#"{{"direct_plate":{{"name":"p","circles":[{{"holes":12}}],{fields}}}}}"#
    ))
}

pub(crate) fn circle_with(fields: &str) -> String {
    workshop_with(&format!(
        r#"{{"direct_plate":{{"name":"p","circles":[{{{fields}}}]}}}}"#
    ))
}

pub(crate) fn head_with(ratio: &str, circles: &str) -> String {
    workshop_with(&format!(
        r#"{{"worm_head":{{"name":"h","worm_ratio":{ratio},"plates":[{{"name":"a","circles":{circles}}}]}}}}"#
    ))
}

pub(crate) fn job_with(fields: &str) -> String {
    format!(r#"{{"format":1,"name":"Job",{fields}}}"#)
}
