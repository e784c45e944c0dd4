//! Linings as whole sets, against the handbook's tables and closed forms.

use slipsoak_engine::parts::{LiningKind, Machine, lining_set, settings};
use slipsoak_engine::parts_file::{read, set};
use slipsoak_engine::simulate::balance;
use slipsoak_engine::units::{ZERO_C, in_rpm};

fn lined(kind: LiningKind) -> Machine {
    let mut machine = Machine::default();
    machine.line_with(kind);
    machine
}

fn near(value: f64, want: f64, share: f64) {
    assert!((value / want - 1.0).abs() < share, "{value} instead of {want}");
}

#[test]
fn heat_limits_and_friction_of_the_kinds_are_those_of_the_handbook() {
    // The Tribology Handbook, t. 7.4: greatest and continuous temperature, friction. Bare metal: Juvinall & Marshek p. 750,
    // 260 °C in bulk, and 0.165 by Gendek & Maciak (2007).
    for (kind, most, steady, friction) in [
        (LiningKind::Woven, 250.0, 150.0, [0.35, 0.40]),
        (LiningKind::Moulded, 350.0, 200.0, [0.35, 0.35]),
        (LiningKind::Sintered, 500.0, 300.0, [0.30, 0.36]),
        (LiningKind::BareMetal, 400.0, 260.0, [0.165, 0.165]),
    ] {
        let m = lined(kind);
        near(m.limits.lining_most, most + ZERO_C, 1e-12);
        near(m.limits.lining_steady, steady + ZERO_C, 1e-12);
        let [least, greatest] = friction;
        assert!(m.lining.friction >= least && m.lining.friction * m.clutch.peak <= greatest + 1e-9, "{kind}");
        assert!(m.check().is_ok());
    }
}

#[test]
fn friction_in_oil_and_dry_lies_within_the_published_ranges() {
    // Juvinall & Marshek, p. 750: dry and in oil.
    for (kind, dry, oiled) in [
        (LiningKind::Moulded, [0.25, 0.45], [0.06, 0.09]),
        (LiningKind::Woven, [0.25, 0.45], [0.08, 0.10]),
        (LiningKind::Sintered, [0.15, 0.45], [0.05, 0.08]),
        (LiningKind::BareMetal, [0.15, 0.25], [0.03, 0.06]),
    ] {
        let l = lined(kind).lining;
        assert!((dry[0]..=dry[1]).contains(&l.friction), "{kind}");
        assert!((oiled[0]..=oiled[1] + 1e-9).contains(&(l.friction * l.oiled_share)), "{kind}");
    }
}

#[test]
fn heavier_linings_lock_at_the_speeds_of_the_closed_form() {
    // ω = √(ω_e² + T1(ω)/K), solved by an independent program; then with shoes of 110 g whatever their lining.
    for (kind, moved, same) in [
        (LiningKind::Woven, 2620.5, 2620.5),
        (LiningKind::Moulded, 2674.2, 2696.5),
        (LiningKind::Sintered, 2709.6, 2794.3),
        (LiningKind::BareMetal, 3099.9, 3260.3),
    ] {
        let mut m = lined(kind);
        near(in_rpm(balance(&m).expect("it locks")), moved, 3e-5);
        m.clutch.shoe_mass = 0.110;
        near(in_rpm(balance(&m).expect("it locks")), same, 3e-5);
    }
}

#[test]
fn old_springs_engage_at_the_speed_at_which_heavier_shoes_pull_as_much() {
    for (kind, rpm) in
        [(LiningKind::Moulded, 1962.46), (LiningKind::Sintered, 1871.84), (LiningKind::BareMetal, 1824.85)]
    {
        let mut m = Machine::default();
        let force = m.preload();
        m.reline_with(kind);
        near(in_rpm(m.clutch.engagement), rpm, 1e-5);
        near(m.preload(), force, 1e-9);
        near(in_rpm(lined(kind).woven_springs().expect("another lining")), rpm, 1e-5);
    }
    assert_eq!(Machine::default().woven_springs(), None);
}

#[test]
fn a_lining_sets_its_whole_row_and_leaves_what_was_set_by_hand_but_for_wear() {
    for kind in LiningKind::ALL {
        let m = lined(kind);
        assert!(lining_set(kind).all(|(p, value)| (p.of)(&m).to_bits() == value.to_bits()), "{kind}");
        // The shoes' metal stays: 460 J/(kg·K) of 0.44 kg less 22.66 g.
        near(m.heat.shoes, 191.98, 1e-4);
        near(m.motor.inertia, 0.0203 + 4.0 * m.clutch.shoe_mass * 0.040 * 0.040, 1e-9);
    }
    let mut m = Machine::default();
    set(&mut m, &settings::lining::wear, 60e-15).expect("a wear constant");
    set(&mut m, &settings::lining::fade_share, 0.4).expect("a share");
    m.line_with(LiningKind::Woven);
    assert_eq!(m.lining.wear, 60e-15);
    m.line_with(LiningKind::Sintered);
    assert_eq!((m.lining.wear, m.lining.friction, m.lining.fade_share), (10e-15, 0.30, 0.4));
    m.line_with(LiningKind::Woven);
    near(m.clutch.shoe_mass, 0.110, 1e-12);
    // A file's lining weighs what its own size weighs: a quarter of 4400 kg/m³ in 0.6 of a ring of 60 mm.
    let wide = read("cart.json", r#"{"drum": {"radius": "60 mm"}, "lining_kind": "sintered"}"#).expect("a cart");
    let volume = 0.6 * std::f64::consts::PI * (0.060 * 0.060 - 0.057 * 0.057) * 0.0254;
    near(wide.clutch.shoe_mass, 0.110 + 4400.0 * volume / 4.0, 1e-9);
    near(in_rpm(wide.woven_springs().expect("another lining")), 2000.0 * (0.110 / wide.clutch.shoe_mass).sqrt(), 1e-6);
    // A file's own numbers hold, even those of another kind.
    let text = r#"{"lining_kind": "bare metal", "lining": {"friction": 0.4}, "clutch": {"shoe_mass": "110 g"}}"#;
    let m = read("cart.json", text).expect("a cart");
    assert_eq!((m.lining.friction, m.lining.density, m.clutch.shoe_mass), (0.4, 7850.0, 0.110));
}

#[test]
fn a_kind_of_lining_beside_the_numbers_of_another_is_refused_with_them() {
    let part = |kind: &str, rest: &str| format!(r#"{{"lining_kind": "{kind}", {rest}}}"#);
    let woven = r#""lining": {"friction": 0.40, "wear_slope": "0.0075 1/K", "density": "1600 kg/m³", "pores": 0.1, "thickness": "3 mm"}"#;
    let why = read("cart.json", &part("sintered", woven)).expect_err("it is woven").to_string();
    let named =
        ["cart.json", "`lining_kind` is sintered", "a woven lining", "lining.friction", "lining.pores", "delete"];
    assert!(named.iter().all(|word| why.contains(word)) && !why.contains("thickness"), "{why}");
    assert!(read("cart.json", &part("woven", woven)).is_ok());
    // Two of them may have been measured.
    let measured = r#""lining": {"friction": 0.40, "pores": 0.1}"#;
    assert!(read("cart.json", &part("sintered", measured)).is_ok());
}
