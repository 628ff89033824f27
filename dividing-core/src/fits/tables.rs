//! The tables of ISO 286-1:2010 for nominal sizes to 500 mm, in micrometres.
//!
//! Standard tolerances: Table 1. Fundamental deviations: Tables 2 to 5. The
//! figures of IT5 to IT11, d, e, f, k, m, n and p were compared with printed
//! reproductions; IT4 and the rows of j and J are from memory and checked
//! against the difference rule of the standard where one exists.

/// The upper ends of the steps of nominal size, in millimetres. A size on an
/// end belongs to the step that it ends.
pub(super) const STEP_ENDS_MM: [f64; 13] = [
    3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0, 250.0, 315.0, 400.0, 500.0,
];

/// One value for each step of nominal size.
pub(super) type Row = [i32; 13];

/// Standard tolerances IT4 (needed by the difference rule) to IT11.
const STANDARD_TOLERANCES_UM: [Row; 8] = [
    [3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20],
    [4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27],
    [6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40],
    [10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63],
    [14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97],
    [25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155],
    [40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250],
    [60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400],
];

/// Distance of the zones d, e, f and g from the nominal size (D to G alike).
pub(super) const D_UM: Row = [20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230];
pub(super) const E_UM: Row = [14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135];
pub(super) const F_UM: Row = [6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68];
pub(super) const G_UM: Row = [2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20];

/// Distance of the zones k (grades to IT7), m, n and p from the nominal size.
pub(super) const K_UM: Row = [0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5];
pub(super) const M_UM: Row = [2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23];
pub(super) const N_UM: Row = [4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40];
pub(super) const P_UM: Row = [6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68];

/// Lower deviation of the shafts j5 and j6, and of j7.
pub(super) const J5_J6_UM: Row = [-2, -2, -2, -3, -4, -5, -7, -9, -11, -13, -16, -18, -20];
pub(super) const J7_UM: Row = [-4, -4, -5, -6, -8, -10, -12, -15, -18, -21, -26, -28, -32];

/// Upper deviation of the holes J6, J7 and J8.
pub(super) const HOLE_J6_UM: Row = [2, 5, 5, 6, 8, 10, 13, 16, 18, 22, 25, 29, 33];
pub(super) const HOLE_J7_UM: Row = [4, 6, 8, 10, 12, 14, 18, 22, 26, 30, 36, 39, 43];
pub(super) const HOLE_J8_UM: Row = [6, 10, 12, 15, 20, 24, 28, 34, 41, 47, 55, 60, 66];

/// The step of a nominal size, or nothing outside 0 to 500 mm.
pub(super) fn step_of(nominal_mm: f64) -> Option<usize> {
    if nominal_mm > 0.0 {
        STEP_ENDS_MM.iter().position(|&end| nominal_mm <= end)
    } else {
        None
    }
}

/// The value of a row at a step.
pub(super) fn at_step(row: &Row, step: usize) -> i32 {
    row.get(step).copied().unwrap_or_default()
}

/// The standard tolerance of a grade from 4 to 11 at a step.
pub(super) fn standard_tolerance_um(grade: u8, step: usize) -> Option<i32> {
    let row = STANDARD_TOLERANCES_UM.get(usize::from(grade).checked_sub(4)?)?;
    row.get(step).copied()
}

/// Δ = ITn − IT(n−1), which is added to the upper deviation of the holes K, M
/// and N to IT8 and P to IT7 above 3 mm (ISO 286-1:2010, Table 3, right-hand
/// columns).
pub(super) fn hole_difference_um(grade: u8, step: usize) -> Option<i32> {
    if step == 0 {
        return Some(0);
    }
    let below = grade.checked_sub(1)?;
    Some(standard_tolerance_um(grade, step)? - standard_tolerance_um(below, step)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The Δ columns of ISO 286-1 for IT5 to IT8, sizes over 3 mm; from
    /// memory, the rows from 180 mm and Δ = 8 for IT7 over 18 to 30 mm also
    /// read in a reproduction (Machine Drawing, Table 15.3).
    #[test]
    fn differences_of_the_grades_are_the_printed_columns() {
        let printed: [(u8, [i32; 12]); 4] = [
            (5, [1, 2, 3, 3, 4, 5, 5, 6, 6, 7, 7, 7]),
            (6, [3, 3, 3, 4, 5, 6, 7, 7, 9, 9, 11, 13]),
            (7, [4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23]),
            (8, [6, 7, 9, 12, 14, 16, 19, 23, 26, 29, 32, 34]),
        ];
        for (grade, row) in printed {
            for (index, &delta) in row.iter().enumerate() {
                assert_eq!(hole_difference_um(grade, index + 1), Some(delta));
            }
        }
    }

    #[test]
    fn a_size_on_a_step_end_belongs_to_the_lower_step() {
        assert_eq!(step_of(3.0), Some(0));
        assert_eq!(step_of(3.000_001), Some(1));
        assert_eq!(step_of(500.0), Some(12));
        assert_eq!(step_of(500.1), None);
        assert_eq!(step_of(0.0), None);
        assert_eq!(step_of(f64::NAN), None);
    }
}
