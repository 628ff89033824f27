//! Worked examples of the GUM and of EA-4/02 through the budget.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what fails in a test is a failing test"
)]
#![allow(
    clippy::float_cmp,
    reason = "figures that the examples print rounded, and zeros"
)]

use dividing_core::ErrorKind;
use dividing_core::accuracy::{
    Budget, Contributor, Correlation, Coverage, Distribution, InputUnit, Persistence,
    SecondOrderTerm, UncertainInput, UncertaintyModel, numerical_sensitivities,
};

fn input(name: &str, u: f64, sensitivity: f64, degrees: Option<f64>) -> UncertainInput {
    UncertainInput {
        name: name.into(),
        unit: String::new(),
        standard_uncertainty: u,
        sensitivity,
        degrees_of_freedom: degrees,
    }
}

fn model(inputs: Vec<UncertainInput>, coverage: Coverage) -> UncertaintyModel {
    UncertaintyModel {
        quantity: "result".into(),
        unit: String::new(),
        estimate: 0.0,
        inputs,
        correlations: Vec::new(),
        second_order: Vec::new(),
        coverage,
    }
}

/// End-gauge calibration, JCGM 100:2008, H.1: `l = ls + d − ls(δα·θ + αs·δθ)`.
/// Inputs and results as read in the documentation of an open uncertainty
/// library; the degrees of freedom 18, 24, 5, 8, 50, 2, the 16 effective ones
/// and U99 = 93 nm from memory.
fn end_gauge() -> UncertaintyModel {
    let ls = 50_000_623.0;
    let theta_bar = -0.1;
    let alpha = 11.5e-6;
    let half_width = |half: f64| half / 3.0_f64.sqrt();
    let u_theta = 0.2_f64.hypot(0.5 / 2.0_f64.sqrt());
    let mut gauge = model(
        vec![
            input("standard", 25.0, 1.0, Some(18.0)),
            input("repeated observations", 5.8, 1.0, Some(24.0)),
            input("comparator, random", 3.9, 1.0, Some(5.0)),
            input("comparator, systematic", 6.7, 1.0, Some(8.0)),
            input(
                "difference of expansion",
                half_width(1e-6),
                -ls * theta_bar,
                Some(50.0),
            ),
            input(
                "difference of temperature",
                half_width(0.05),
                -ls * alpha,
                Some(2.0),
            ),
            // ls·δα and ls·δθ are zero at the estimates.
            input("expansion of the standard", half_width(2e-6), 0.0, None),
            input("temperature", u_theta, 0.0, None),
        ],
        Coverage::Probability(0.99),
    );
    gauge.quantity = "length of the end gauge".into();
    gauge.unit = "nm".into();
    gauge.estimate = 50_000_838.0;
    gauge
}

#[test]
fn end_gauge_of_the_guide() {
    let budget = end_gauge().budget().unwrap();
    assert_eq!(budget.combined_standard_uncertainty.round(), 32.0);
    let contribution = |index: usize| budget.lines[index].contribution;
    assert!((contribution(4) - 2.886_79).abs() < 0.001);
    assert!((contribution(5) - 16.599).abs() < 0.001);
    let degrees = budget.effective_degrees_of_freedom.unwrap();
    // 16.7 in the example, from rounded contributions and the components of d
    // taken together (25.6 degrees of freedom); apart they give nearly the same.
    assert!((degrees - 16.7).abs() < 0.3, "{degrees}");
    assert!((budget.coverage_factor - 2.92).abs() < 0.005);
    assert!((budget.expanded_uncertainty - 93.0).abs() < 0.7);
    let shares: f64 = budget.lines.iter().map(|line| line.share).sum();
    assert!((shares - 1.0).abs() < 1e-12);
}

/// JCGM 100:2008, H.1.7: 34 nm with second-order terms; the two terms are
/// 11.7 nm and 1.7 nm (from memory).
#[test]
fn end_gauge_with_second_order_terms() {
    let mut gauge = end_gauge();
    let ls = 50_000_623.0;
    for (first, second) in [
        ("difference of expansion", "temperature"),
        ("expansion of the standard", "difference of temperature"),
    ] {
        gauge.second_order.push(SecondOrderTerm {
            first: first.into(),
            second: second.into(),
            second_derivative: -ls,
            third_derivative_in_second: 0.0,
            third_derivative_in_first: 0.0,
        });
    }
    let budget = gauge.budget().unwrap();
    assert_eq!(budget.combined_standard_uncertainty.round(), 34.0);
    assert!((budget.second_order_uncertainty - 11.7_f64.hypot(1.7)).abs() < 0.1);
    let shares: f64 = budget.lines.iter().map(|line| line.share).sum();
    assert!((shares + budget.second_order_share - 1.0).abs() < 1e-12);
}

/// The variance of x² with x normal about m: 4m²u² + 2u⁴, exactly what the
/// second-order term for one input gives (JCGM 101:2008, 9.4 treats this model).
#[test]
fn second_order_term_of_a_square() {
    let (m, u) = (0.05, 0.005);
    let mut square = model(vec![input("x", u, 2.0 * m, None)], Coverage::Factor(2.0));
    square.second_order.push(SecondOrderTerm {
        first: "x".into(),
        second: "x".into(),
        second_derivative: 2.0,
        third_derivative_in_second: 0.0,
        third_derivative_in_first: 0.0,
    });
    let variance = square
        .budget()
        .unwrap()
        .combined_standard_uncertainty
        .powi(2);
    assert!((variance - (4.0 * m * m * u * u + 2.0 * u.powi(4))).abs() < 1e-18);
}

/// Simultaneous resistance and reactance, JCGM 100:2008, H.2 (the five sets of
/// observations and the results of tables H.2 to H.4 from memory).
#[test]
fn resistance_and_reactance_of_the_guide() {
    let volt = [5.007, 4.994, 5.005, 4.990, 4.999];
    let ampere = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
    let phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
    let mean = |x: &[f64; 5]| x.iter().sum::<f64>() / 5.0;
    let covariance = |x: &[f64; 5], y: &[f64; 5]| {
        let (mx, my) = (mean(x), mean(y));
        x.iter()
            .zip(y)
            .map(|(x, y)| (x - mx) * (y - my))
            .sum::<f64>()
            / 20.0
    };
    let uncertainty = |x: &[f64; 5]| covariance(x, x).sqrt();
    let correlation =
        |x: &[f64; 5], y: &[f64; 5]| covariance(x, y) / (uncertainty(x) * uncertainty(y));
    let correlations: Vec<Correlation> = [
        ("V", "I", correlation(&volt, &ampere)),
        ("V", "phi", correlation(&volt, &phase)),
        ("I", "phi", correlation(&ampere, &phase)),
    ]
    .into_iter()
    .map(|(first, second, coefficient)| Correlation {
        first: first.into(),
        second: second.into(),
        coefficient,
    })
    .collect();
    assert!((correlations[0].coefficient + 0.36).abs() < 0.005);
    assert!((correlations[1].coefficient - 0.86).abs() < 0.005);
    assert!((correlations[2].coefficient + 0.65).abs() < 0.005);

    let estimates = [mean(&volt), mean(&ampere), mean(&phase)];
    let uncertainties = [
        uncertainty(&volt),
        uncertainty(&ampere),
        uncertainty(&phase),
    ];
    let result = |function: fn(&[f64]) -> f64| {
        let sensitivities = numerical_sensitivities(function, &estimates, &uncertainties).unwrap();
        let inputs = ["V", "I", "phi"]
            .into_iter()
            .zip(uncertainties.into_iter().zip(sensitivities))
            .map(|(name, (u, sensitivity))| input(name, u, sensitivity, None))
            .collect();
        let mut made = model(inputs, Coverage::Factor(2.0));
        made.estimate = function(&estimates);
        made.correlations.clone_from(&correlations);
        made
    };
    let resistance = result(|x| x[0] / x[1] * x[2].cos());
    let reactance = result(|x| x[0] / x[1] * x[2].sin());
    let impedance = result(|x| x[0] / x[1]);
    for (found, estimate, u) in [
        (&resistance, 127.732, 0.071),
        (&reactance, 219.847, 0.295),
        (&impedance, 254.260, 0.236),
    ] {
        let budget = found.budget().unwrap();
        assert!((budget.estimate - estimate).abs() < 0.000_6);
        assert!((budget.combined_standard_uncertainty - u).abs() < 0.000_6);
        let shares: f64 = budget.lines.iter().map(|line| line.share).sum();
        assert!((shares - 1.0).abs() < 1e-9);
    }
    for (one, two, coefficient) in [
        (&resistance, &reactance, -0.588),
        (&resistance, &impedance, -0.485),
        (&reactance, &impedance, 0.993),
    ] {
        let found = one.correlation_with(two).unwrap();
        assert!((found - coefficient).abs() < 0.000_6, "{found}");
    }
}

/// EA-4/02 supplement, example S4, gauge block of nominal length 50 mm (from
/// memory): the contributions 15, 17.3, 5.37, 18.5, 16.6, 11.8 and 3.87 nm
/// give u = 36.4 nm and U = 73 nm with k = 2.
#[test]
fn gauge_block_of_ea_4_02() {
    let inputs = [15.0, 17.3, 5.37, 18.5, 16.6, 11.8, 3.87]
        .into_iter()
        .enumerate()
        .map(|(index, u)| input(&format!("contribution {index}"), u, 1.0, None))
        .collect();
    let budget = model(inputs, Coverage::Factor(2.0)).budget().unwrap();
    assert!((budget.combined_standard_uncertainty - 36.4).abs() < 0.1);
    assert_eq!(budget.expanded_uncertainty.round(), 73.0);
}

/// JCGM 101:2008, 9.2.3 (from memory): the sum of four rectangular inputs of
/// unit standard deviation has u = 2.0 and the GUM interval ±3.92.
#[test]
fn additive_model_of_jcgm_101() {
    let contributor = |index: usize| Contributor {
        name: format!("input {index}").into(),
        limit: 3.0_f64.sqrt(),
        unit: InputUnit::Radian,
        sensitivity: if index.is_multiple_of(2) { 1.0 } else { -1.0 },
        distribution: Distribution::Uniform,
        persistence: Persistence::NewAtSeating,
        degrees_of_freedom: None,
    };
    let contributors: Vec<Contributor> = (0..4).map(contributor).collect();
    let budget =
        Budget::of_contributors("sum", 0.0, &contributors, Coverage::Probability(0.95)).unwrap();
    let rad = |arcsec: f64| arcsec / 3600.0 * std::f64::consts::PI / 180.0;
    assert!((rad(budget.combined_standard_uncertainty) - 2.0).abs() < 1e-12);
    assert!((rad(budget.expanded_uncertainty) - 3.92).abs() < 0.005);
}

#[test]
fn impossible_models_are_refused() {
    let kind = |made: &UncertaintyModel| made.budget().unwrap_err().kind();
    let two = || {
        model(
            vec![input("a", 1.0, 1.0, None), input("b", 1.0, -1.0, Some(5.0))],
            Coverage::Probability(0.95),
        )
    };
    let correlation = |first: &str, second: &str, coefficient| Correlation {
        first: first.into(),
        second: second.into(),
        coefficient,
    };
    assert_eq!(
        kind(&model(vec![], Coverage::Factor(2.0))),
        ErrorKind::EmptyList
    );
    let mut made = two();
    made.inputs[1].name = "a".into();
    assert_eq!(kind(&made), ErrorKind::Duplicate);
    made = two();
    made.inputs[0].standard_uncertainty = f64::NAN;
    let error = made.budget().unwrap_err();
    assert_eq!(error.kind(), ErrorKind::NotFinite);
    assert_eq!(error.field(), "inputs[0].standard_uncertainty");
    made = two();
    made.inputs[0].standard_uncertainty = -1.0;
    assert_eq!(kind(&made), ErrorKind::OutOfRange);
    made = two();
    made.inputs[0].sensitivity = 1e300;
    made.inputs[0].standard_uncertainty = 1e300;
    assert_eq!(kind(&made), ErrorKind::NotFinite);
    made = two();
    made.correlations = vec![correlation("a", "c", 0.5)];
    assert_eq!(kind(&made), ErrorKind::NotFound);
    made.correlations = vec![correlation("a", "b", 1.5)];
    assert_eq!(kind(&made), ErrorKind::OutOfRange);
    made.correlations = vec![correlation("a", "b", 0.5), correlation("b", "a", 0.5)];
    assert_eq!(kind(&made), ErrorKind::Duplicate);
    // Finite degrees of freedom and correlation: no effective degrees.
    made.correlations = vec![correlation("a", "b", 0.5)];
    assert_eq!(kind(&made), ErrorKind::Inconsistent);
    made.coverage = Coverage::Factor(2.0);
    assert!(made.budget().is_ok());
    // Full correlation of opposite inputs cancels exactly.
    made.correlations = vec![correlation("a", "b", 1.0)];
    assert_eq!(made.budget().unwrap().combined_standard_uncertainty, 0.0);
    // Three inputs cannot all be fully opposed.
    let mut three = model(
        ["a", "b", "c"]
            .map(|name| input(name, 1.0, 1.0, None))
            .to_vec(),
        Coverage::Factor(2.0),
    );
    three.correlations = vec![
        correlation("a", "b", -1.0),
        correlation("b", "c", -1.0),
        correlation("a", "c", -1.0),
    ];
    assert_eq!(kind(&three), ErrorKind::Inconsistent);
    made = two();
    made.coverage = Coverage::Probability(1.0);
    assert_eq!(made.budget().unwrap_err().field(), "coverage");
}

#[test]
fn nothing_uncertain_is_a_right_answer() {
    let budget = model(
        vec![input("a", 0.0, 1.0, Some(3.0))],
        Coverage::Probability(0.95),
    )
    .budget()
    .unwrap();
    assert_eq!(budget.expanded_uncertainty, 0.0);
    assert_eq!(budget.lines[0].share, 0.0);
    assert_eq!(budget.effective_degrees_of_freedom, None);
}

#[test]
fn budgets_print_in_three_ways() {
    let mut gauge = end_gauge();
    gauge.inputs[0].name = "<script>alert('&')</script>".into();
    let budget = gauge.budget().unwrap();
    let text = budget.to_text();
    assert!(
        text.contains("combined standard uncertainty: 31.66 nm"),
        "{text}"
    );
    assert!(text.contains("coverage factor: 2.92"), "{text}");
    let html = budget.to_html();
    assert!(!html.contains("<script"), "{html}");
    assert!(html.contains("&lt;script&gt;alert(&#39;&amp;&#39;)&lt;/script&gt;"));
    assert_eq!(html.matches("<tr>").count(), html.matches("</tr>").count());
    let json = serde_json::to_string(&budget).unwrap();
    assert_eq!(serde_json::from_str::<Budget>(&json).unwrap(), budget);
}

#[test]
fn contributors_of_one_name_stay_apart() {
    let contributor = Contributor {
        name: "hole position".into(),
        limit: 0.01,
        unit: InputUnit::Millimetre,
        sensitivity: 0.02,
        distribution: Distribution::Normal {
            sigmas_at_limit: 2.0,
        },
        persistence: Persistence::FixedForPlace,
        degrees_of_freedom: None,
    };
    let mut list = vec![contributor.clone(), contributor.clone(), contributor];
    list[0].name = "hole position (2)".into();
    let budget = Budget::of_contributors("f", 0.0, &list, Coverage::Factor(2.0)).unwrap();
    assert_eq!(budget.lines.len(), 3);
    list[1].distribution = Distribution::Normal {
        sigmas_at_limit: 0.0,
    };
    let error = Budget::of_contributors("f", 0.0, &list, Coverage::Factor(2.0)).unwrap_err();
    assert_eq!(
        error.field(),
        "contributors[1].distribution.normal.sigmas_at_limit"
    );
}

/// Linear budgets worked out by `uncertainties` and GTC
/// (tests/reference/budget_vectors.py).
#[test]
fn budgets_of_other_libraries() {
    let rows: Vec<serde_json::Value> =
        serde_json::from_str(include_str!("../../tests/vectors/budget.json")).unwrap();
    assert_eq!(rows.len(), 30);
    for row in &rows {
        let numbers =
            |field: &str| -> Vec<f64> { serde_json::from_value(row[field].clone()).unwrap() };
        let u = numbers("standard_uncertainties");
        let sensitivities = numbers("sensitivities");
        let degrees: Vec<Option<f64>> = if row["degrees_of_freedom"].is_array() {
            serde_json::from_value(row["degrees_of_freedom"].clone()).unwrap()
        } else {
            vec![None; u.len()]
        };
        let inputs: Vec<UncertainInput> = (0..u.len())
            .map(|at| input(&format!("x{at}"), u[at], sensitivities[at], degrees[at]))
            .collect();
        let correlated = row["correlations"].is_array();
        let coverage = if correlated {
            Coverage::Factor(2.0)
        } else {
            Coverage::Probability(0.95)
        };
        let mut made = model(inputs, coverage);
        for one in 0..u.len() {
            for two in 0..one {
                if let Some(coefficient) = row["correlations"][one][two].as_f64() {
                    made.correlations.push(Correlation {
                        first: format!("x{one}"),
                        second: format!("x{two}"),
                        coefficient,
                    });
                }
            }
        }
        let budget = made.budget().unwrap();
        let near = |found: f64, field: &str, tolerance: f64| {
            let expected = row[field].as_f64().unwrap();
            assert!((found / expected - 1.0).abs() < tolerance, "{found}: {row}");
        };
        near(budget.combined_standard_uncertainty, "combined", 1e-9);
        if !correlated {
            let degrees = budget.effective_degrees_of_freedom.unwrap();
            near(degrees, "effective_degrees_of_freedom", 1e-9);
            near(budget.coverage_factor, "coverage_factor", 1e-6);
        }
    }
}

/// The degrees of freedom of a contributor reach the Welch-Satterthwaite
/// formula (JCGM 100:2008, G.4.1): two equal uncertainties, one of ten degrees
/// and one of infinitely many, have `(2u²)²/(u⁴/10) = 40`; the Student factor at
/// 40 degrees and 95 % is 2.02 (table G.2: 2.02).
#[test]
fn degrees_of_freedom_of_contributors_are_carried() {
    let contributor = |name: &'static str, degrees_of_freedom| Contributor {
        name: name.into(),
        limit: 0.01,
        unit: InputUnit::Millimetre,
        sensitivity: 1.0 / 50.0,
        distribution: Distribution::Normal {
            sigmas_at_limit: 2.0,
        },
        persistence: Persistence::NewAtSeating,
        degrees_of_freedom,
    };
    let both = [contributor("a", Some(10.0)), contributor("b", None)];
    let budget = Budget::of_contributors("angle", 0.0, &both, Coverage::Probability(0.95)).unwrap();
    assert!((budget.effective_degrees_of_freedom.unwrap() - 40.0).abs() < 1e-9);
    assert!((budget.coverage_factor - 2.02).abs() < 0.005);
    let none = Contributor {
        degrees_of_freedom: Some(0.0),
        ..contributor("c", None)
    };
    let error = none.check().unwrap_err();
    assert_eq!(
        (error.kind(), error.field()),
        (ErrorKind::OutOfRange, "degrees_of_freedom")
    );
}

/// Samples in a budget: their mean moves the estimate, their standard deviation
/// is the uncertainty; `statistics.mean` and `statistics.pstdev` of Python give
/// 1.25 and 2.277608394786075 for 0, −1, 1 and 5.
#[test]
fn samples_in_a_budget() {
    let samples = |values: Vec<f64>| {
        Contributor::of_samples(
            "seating",
            values,
            InputUnit::Radian,
            -1.0,
            Persistence::NewAtSeating,
        )
    };
    let found = samples(vec![0.0, -1.0, 1.0, 5.0]).unwrap();
    assert_eq!((found.limit, found.limit_rad()), (5.0, 5.0));
    assert!((found.mean_rad() + 1.25).abs() < 1e-15);
    assert!((found.standard_uncertainty_rad() - 2.277_608_394_786_075).abs() < 1e-12);
    let budget = Budget::of_contributors("angle", 0.5, &[found], Coverage::Factor(2.0)).unwrap();
    let rad = |arcsec: f64| arcsec / 3600.0 * std::f64::consts::PI / 180.0;
    assert!((rad(budget.estimate) + 0.75).abs() < 1e-12);
    assert!((rad(budget.combined_standard_uncertainty) - 2.277_608_394_786_075).abs() < 1e-12);
    // All zero is a contributor that does nothing.
    let still = samples(vec![0.0; 3]).unwrap();
    assert_eq!((still.limit, still.standard_uncertainty_rad()), (0.0, 0.0));
    assert_eq!(samples(vec![]).unwrap_err().kind(), ErrorKind::EmptyList);
    let hostile = samples(vec![0.0, f64::NAN]).unwrap_err();
    assert_eq!(
        (hostile.kind(), hostile.field()),
        (ErrorKind::NotFinite, "values[1]")
    );
}
