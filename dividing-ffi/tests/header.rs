//! The committed header is what the sources say. `UPDATE_HEADER=1 cargo test -p
//! dividing-ffi --test header` writes it anew.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::path::Path;

/// The macros of the version and of lengths: from the manifest, so that the
/// version has one source.
fn macros() -> String {
    let part = |text: &str| text.parse::<u32>().unwrap();
    let (major, minor, patch) = (
        part(env!("CARGO_PKG_VERSION_MAJOR")),
        part(env!("CARGO_PKG_VERSION_MINOR")),
        part(env!("CARGO_PKG_VERSION_PATCH")),
    );
    format!(
        "\n/**\n * The version of this header; dividing_version gives that of the library.\n */\n\
         #define DIVIDING_VERSION \"{version}\"\n\
         #define DIVIDING_VERSION_MAJOR {major}\n\
         #define DIVIDING_VERSION_MINOR {minor}\n\
         #define DIVIDING_VERSION_PATCH {patch}\n\
         #define DIVIDING_VERSION_NUMBER {number}\n\n\
         /**\n * As the length of a text: it goes up to its NUL.\n */\n\
         #define DIVIDING_NUL_ENDED SIZE_MAX",
        version = env!("CARGO_PKG_VERSION"),
        number = major * 1_000_000 + minor * 1_000 + patch,
    )
}

/// The sources of the header, in its order.
const HEADER_ORDER: &[&str] = &[
    "status",
    "version",
    "error",
    "text",
    "watch",
    "angle",
    "length",
    "fields",
    "document",
    "plate_fields",
    "worm_fields",
    "device_fields",
    "equipment",
    "workshop",
    "feature_fields",
    "job",
    "feature_geometry",
    "setting",
    "ways",
    "orientations",
    "plans",
    "step",
    "sheet",
    "tables",
    "table_copy",
    "stepping",
    "gearing",
    "gauge_blocks",
    "fits",
    "pattern",
    "pattern_outputs",
    "contributor",
    "error_model",
    "error_report",
    "budget",
    "simulation",
    "inverse",
    "lineage",
    "pin_pairs",
    "standards",
    "sweep",
    "geometry",
    "circle",
    "measurement",
    "inspection",
    "closure",
    "measured",
    "scalar",
];

fn generated() -> String {
    let crate_folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut config = cbindgen::Config::from_file(crate_folder.join("cbindgen.toml")).unwrap();
    config.after_includes = Some(macros());
    let mut builder = cbindgen::Builder::new().with_config(config);
    // File by file, in the order of the header; no build is needed for it.
    for module in HEADER_ORDER {
        builder = builder.with_src(crate_folder.join(format!("src/{module}.rs")));
    }
    let mut header = Vec::new();
    builder.generate().unwrap().write(&mut header);
    String::from_utf8(header).unwrap()
}

#[test]
fn header_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("include/dividing.h");
    let generated = generated();
    if std::env::var_os("UPDATE_HEADER").is_some() {
        std::fs::write(&path, &generated).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == generated,
        "include/dividing.h is not what the sources say; \
         UPDATE_HEADER=1 cargo test -p dividing-ffi --test header writes it anew"
    );
}
