//! What to measure to learn an assumed constant: one row for each measurement.

use slipsoak_engine::parts::Parameter;
use slipsoak_engine::parts::settings::{
    bushing, clutch, drum, heat, limits, lining, motor, oiling, springs, vehicle, washer,
};

/// Constants, and the measurement that shows them. Names in backticks are columns that `slipsoak calibrate` reads.
static ROWS: &[(&[&Parameter], &str)] = &[
    (&[&motor::idle], "idle of the warm motor by a tachometer, over some minutes"),
    (
        &[&motor::idle_band, &motor::drag, &motor::drag_slope],
        "`drop` of the warm idle under a known `drag`, at two drags",
    ),
    (&[&motor::stall], "speed at which a growing drag stalls the idling motor"),
    (&[&motor::throttle_lag], "film of lever and tachometer as the throttle opens, at 120 pictures a second"),
    (
        &[&motor::block_heat, &motor::block_share, &heat::block_running],
        "log of the `block`: half an hour of idling, then half an hour of riding",
    ),
    (
        &[&motor::head_heat, &motor::head_rise, &motor::head_fill, &motor::head_drain, &heat::block_stopped],
        "log of the `block` for an hour after a ride",
    ),
    (&[&vehicle::chain_efficiency], "pull of a scale that rolls the machine on the level, chain on and off"),
    (&[&vehicle::rider_gain], "recording of the road speed while a speed is held"),
    (
        &[&clutch::relaxation, &clutch::relaxation_doubling],
        "pull at which a shoe leaves its rest (`spring`), or `engagement`, new and after 50 and 200 h; two duties for its rise with heat",
    ),
    (&[&clutch::guide_friction], "engagement speed with rising and with falling speed, by a tachometer"),
    (
        &[
            &springs::scatter,
            &springs::lot,
            &springs::first,
            &springs::second,
            &springs::third,
            &springs::fourth,
            &springs::fifth,
            &springs::sixth,
        ],
        "pull at which each shoe of a new clutch leaves its rest, by a scale",
    ),
    (&[&lining::wear], "thickness of the `lining`, or weight of the shoes, every 20 to 50 h"),
    (
        &[&lining::wear_slope, &lining::wear_energy],
        "thickness of the `lining` under two duties whose linings are 40 K apart or more",
    ),
    (
        &[&lining::fade_span, &lining::fade_share, &lining::speed_slope],
        "pull of the machine against a scale with the throttle open for 3 s, cold and hot",
    ),
    (&[&lining::contact, &lining::open_gap, &heat::lining_shoes], "log of `shoes` and `band` over ten launches"),
    (&[&lining::bedding_depth, &lining::bedding_share], "weight of the shoes after each of the first ten hours"),
    (
        &[&lining::glaze_from, &lining::glaze_depth, &lining::glaze_share],
        "pull of the machine against a scale before and after an overheated ride, and each hour after it",
    ),
    (
        &[&lining::pores, &lining::soak_time, &lining::smoke_time],
        "weight of a shoe: dry, after soaking in oil and wiping, and after hours of riding",
    ),
    (
        &[&lining::soak_spoils, &lining::oil_film, &lining::wipe],
        "pull of the machine against a scale after a weighed dose of oil on the linings, and over the launches after it",
    ),
    (&[&drum::emissivity], "infra-red reading of the drum beside one of a dot of black paint, both hot"),
    (
        &[&heat::convection, &heat::chain, &heat::web_sprocket, &heat::band_web],
        "log of `band` and `sprocket` while the drum cools, riding and standing, with the chain on and off",
    ),
    (
        &[&heat::sprocket_bushing, &heat::bushing_shaft_oiled, &heat::bushing_shaft_dry],
        "log of `sprocket`, `bushing` and `shaft` over a ride, oiled and dry",
    ),
    (
        &[&heat::shoes_carrier, &heat::drum_shoes, &heat::shoes_air, &heat::carrier_air, &heat::inner_least],
        "log of `shoes` and `carrier` over a ride and the hour after it",
    ),
    (&[&heat::carrier_shaft, &heat::shaft_block], "log of `carrier`, `shaft` and `block` over a ride"),
    (
        &[&bushing::mixed_number, &bushing::friction_oiled],
        "`spin-down` of the warm, oiled drum from a known speed (`spun`), its bushing at two known temperatures (`warm`)",
    ),
    (
        &[&bushing::friction_dry],
        "`spin-down` of the drum on a bushing washed dry, on the bench only, from a known speed (`spun`) at a known temperature (`warm`)",
    ),
    (
        &[&bushing::friction_scored, &bushing::grab_torque],
        "pull that turns the drum on a scored bushing, by a scale at its rim",
    ),
    (
        &[&bushing::score_energy, &bushing::score_from],
        "`spin-down` (with `spun`, `warm`) of a drum whose bushing ran dry, every few minutes of running; replace it at the first squeal",
    ),
    (&[&bushing::weight], "weight of drum and sprocket"),
    (&[&bushing::chain_pull], "sag of the chain and its weight for each metre; pull of a tight chain by a scale"),
    (&[&bushing::shake], "`bushing` clearance of machines that mostly idle beside that of ones that mostly ride"),
    (
        &[&bushing::wear_boundary],
        "clearance of the `bushing` every 50 h, ridden and well oiled; weight of the drum if the gauge shows nothing",
    ),
    (&[&bushing::wear_film], "clearance of the `bushing` of a machine that idles oiled for 200 h or more"),
    (&[&bushing::wear_dry], "clearance of the `bushing` of a clutch that ran dry, with its hours"),
    (&[&bushing::wear_face], "length of a bushing that ran on steel after its washer was gone, with its hours"),
    (&[&washer::wear_oiled], "thickness of the `washer` every 20 h, oiled"),
    (&[&washer::wear_dry], "thickness of the `washer` of a clutch that ran dry, with its hours"),
    (
        &[&washer::heat_life],
        "`charring` of the washer by colour and bending, before it is black, with a log of its heat",
    ),
    (&[&washer::age_life], "thickness of the `washer` of one duty, cool, over 500 h: does it wear faster?"),
    (&[&washer::contact], "log of `washer`, `bushing` and `carrier` over a ride"),
    (&[&washer::oil_share], "weight of a washer dry and soaked"),
    (&[&washer::fling, &washer::feed_time], "weight of a washer before and after rides of 10 min and 1 h"),
    (&[&washer::friction, &washer::preload], "pull that turns the drum, by a scale at its rim, washer on and off"),
    (&[&washer::misalignment], "straight edge along both sprockets: offset over the distance of their centres"),
    (&[&oiling::imbibe_time], "time in which a drop soaks into a bushing of known temperature"),
    (
        &[&oiling::fling_area, &oiling::fling_least, &oiling::run_off_time],
        "`weight` of drum and bushing before oiling, after it, after standing and after the first ride",
    ),
    (&[&oiling::leak], "`weight` of drum and bushing before and after 20 h and 80 h of riding"),
    (
        &[&oiling::evaporation, &oiling::evaporation_energy],
        "`weight` of an oiled bushing in an oven at two temperatures, over days",
    ),
    (&[&oiling::oxidation_life], "colour and thickness of the oil of a bushing kept hot for weeks, beside fresh oil"),
    (&[&oiling::grease_time], "`weight` of a greased drum every 50 h"),
    (&[&oiling::lining_share], "weight of the shoes before and after the first ride with too much oil"),
    (&[&limits::oil_service], "score and play of bushings that were oiled at different fills"),
];

/// What to measure to learn a constant; none for one that is not assumed.
///
/// ```
/// use slipsoak_plots::words::measure::measured_by;
/// use slipsoak_engine::parts::settings;
/// assert!(measured_by(&settings::washer::wear_oiled).unwrap().contains("`washer`"));
/// assert!(measured_by(&settings::drum::radius).is_none());
/// ```
pub fn measured_by(p: &Parameter) -> Option<&'static str> {
    ROWS.iter().find(|(all, _)| all.contains(&p)).map(|row| row.1)
}

/// Every measurement.
pub fn hints() -> impl Iterator<Item = &'static str> {
    ROWS.iter().map(|row| row.1)
}

/// Every constant that a row names.
pub fn named() -> impl Iterator<Item = &'static Parameter> {
    ROWS.iter().flat_map(|row| row.0.iter().copied())
}
