//! Every integration test of the core in one program: one link instead of
//! thirty. A file beside this one that is not named here is not run, so the
//! first test looks for such files.

mod common;

mod accuracy;
mod accuracy_never_nan;
mod accuracy_references;
mod budget;
mod damage;
mod devices;
mod error_bounds;
mod error_model;
mod feature_vectors;
mod fits;
mod gauge_block_vectors;
mod gearing_vectors;
mod hostile;
mod inspection_bad_data;
mod inspection_circle;
mod inspection_closure;
mod inspection_harmonics;
mod inspection_never_panics;
mod inspection_statistics;
mod inspection_use;
mod inverse;
mod laws;
mod measured_covariance;
mod measured_devices;
mod measured_equipment;
mod nearest_moves;
mod published;
mod reach_limits;
mod sensitivities;
mod simulation;
mod stepping_tables;
mod suppliers;
mod vectors;
mod worm_laws;
mod worm_plans;
mod worm_vectors;

#[test]
fn every_file_of_this_folder_is_a_module_here() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests");
    let here = include_str!("all.rs");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).expect("the folder of tests") {
        let name = entry.expect("an entry").file_name();
        let name = name.to_str().expect("a plain name");
        let Some(module) = name.strip_suffix(".rs") else {
            continue;
        };
        // The schemas need a feature of their own.
        if module != "all" && module != "schema" {
            assert!(
                here.contains(&format!("\nmod {module};\n")),
                "{name} is not a module of all.rs"
            );
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} files");
}
