//! Exports that write to arrays, called from Rust: what stands before and behind
//! the room given stays as it was.
#![allow(clippy::unwrap_used, reason = "a failing unwrap is a failing test")]

use std::ptr::{null, null_mut};

use dividing::circle::*;
use dividing::inspection::*;
use dividing::measurement::*;
use dividing::pattern::*;
use dividing::pattern_outputs::*;
use dividing::status::Status;
use dividing::table_copy::*;
use dividing::tables::*;
use dividing::text::NUL_ENDED;
use dividing::workshop::*;

const MARK: f64 = -77.0;

#[test]
fn columns_of_tables_stay_within_their_room() {
    let json = cr#"{"format":1,"name":"w","equipment":[{"worm_head":{"name":"head",
        "worm_ratio":40,"plates":[{"name":"1","circles":[15,16,17,18,19,20]}]}}]}"#;
    let (mut workshop, mut table) = (null_mut(), null_mut());
    let mut residual = [MARK; 101];
    // SAFETY: texts with NUL, places of the right type, handles freed once.
    unsafe {
        assert_eq!(
            dividing_workshop_from_json(json.as_ptr(), NUL_ENDED, &mut workshop),
            Status::Ok
        );
        assert_eq!(
            dividing_indexing_table_new(workshop, 2, 100, 0, None, null_mut(), &mut table),
            Status::Ok
        );
        dividing_workshop_free(workshop);
        let places = SimplePlaces {
            capacity: 99,
            exact: null_mut(),
            plate: null_mut(),
            back: null_mut(),
            circle: null_mut(),
            turns: null_mut(),
            holes: null_mut(),
            residual_turns: residual[1..].as_mut_ptr(),
            closing_turns: null_mut(),
        };
        assert_eq!(
            dividing_indexing_table_copy_simple(table, 0, &places),
            Status::Ok
        );
        dividing_indexing_table_free(table);
    }
    assert!(residual[1..100].iter().all(|it| (0.0..0.5).contains(it)));
    assert_eq!(
        (residual[0].to_bits(), residual[100].to_bits()),
        (MARK.to_bits(), MARK.to_bits())
    );
}

#[test]
fn holes_and_residuals_stay_within_their_room() {
    let brief = cr#"{"format":1,"divisions":[6,8],"outline":{"disc":{"diameter":100}},
        "hole_diameter":6,"least_web":2,"least_edge_distance":3}"#;
    let (mut design, mut pattern, mut count) = (null_mut(), null_mut(), 0);
    // SAFETY: texts with NUL, places of the right type, handles freed once.
    unsafe {
        assert_eq!(
            dividing_design_new(brief.as_ptr(), NUL_ENDED, 0, None, null_mut(), &mut design),
            Status::Ok
        );
        assert_eq!(dividing_design_pattern(design, &mut pattern), Status::Ok);
        dividing_design_free(design);
        assert_eq!(dividing_pattern_hole_count(pattern, &mut count), Status::Ok);
        let (mut x, mut y) = (vec![MARK; count + 1], vec![MARK; count + 1]);
        let places = HolePlaces {
            capacity: count,
            ring: null_mut(),
            number: null_mut(),
            angle_numerator: null_mut(),
            angle_denominator: null_mut(),
            x_mm: x.as_mut_ptr(),
            y_mm: y.as_mut_ptr(),
        };
        assert_eq!(dividing_pattern_holes(pattern, &places), Status::Ok);
        dividing_pattern_free(pattern);
        assert_eq!(x[count].to_bits(), MARK.to_bits());
        let mut residuals = vec![MARK; count + 1];
        let mut circle = std::mem::MaybeUninit::uninit();
        let status = dividing_fit_circle(
            x.as_ptr(),
            y.as_ptr(),
            null(),
            null(),
            4,
            residuals.as_mut_ptr(),
            circle.as_mut_ptr(),
        );
        assert_eq!(status, Status::Ok);
        assert!(circle.assume_init().radius_mm > 0.0);
        assert_eq!(residuals[4].to_bits(), MARK.to_bits());
    }
}

#[test]
fn a_calibration_reads_its_rows_alone() {
    let ring = RingFields {
        name: null(),
        places: 3,
        numbering: 0,
        axis: 0,
        axis_x_mm: 0.0,
        axis_y_mm: 0.0,
        radius: dividing::fields::OptionalLength { given: 0, mm: 0.0 },
        standard_uncertainty: 0.2,
        span: 0,
        pin_diameter_mm: 0.0,
    };
    let (shifts, readings) = ([0, 1, 2], [1.0, 2.0, 3.0, 2.0, 3.0, 1.0, 3.0, 1.0, 2.0]);
    let (mut measurement, mut inspection) = (null_mut(), null_mut());
    // SAFETY: arrays with their lengths, handles freed once.
    unsafe {
        let status = dividing_measurement_closure(
            &ring,
            shifts.as_ptr(),
            3,
            readings.as_ptr(),
            readings.len(),
            &mut measurement,
        );
        assert_eq!(status, Status::Ok);
        assert_eq!(
            dividing_inspection_new(measurement, 0, None, null_mut(), &mut inspection),
            Status::Ok
        );
        dividing_measurement_free(measurement);
        dividing_inspection_free(inspection);
    }
}
