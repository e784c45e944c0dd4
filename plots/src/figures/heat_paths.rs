//! Heat that flows between the parts at a moment, as ribbons on the section.

use crate::figures::painted::Painted;
use crate::figures::section::Joint;
use crate::sheet::prelude::*;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Parameter, settings::heat};
use slipsoak_engine::record::Run;

/// The channels and the conductance of each joint of a section.
static PATHS: [([Channel; 2], &Parameter); 6] = [
    ([Channel::Band, Channel::Web], &heat::band_web),
    ([Channel::Web, Channel::Sprocket], &heat::web_sprocket),
    ([Channel::Sprocket, Channel::Bushing], &heat::sprocket_bushing),
    ([Channel::Shoes, Channel::Carrier], &heat::shoes_carrier),
    ([Channel::Carrier, Channel::Shaft], &heat::carrier_shaft),
    ([Channel::Shaft, Channel::Block], &heat::shaft_block),
];

/// Width of the strongest ribbon, px, and its length.
const WIDEST: f64 = 15.0;
const LONG: f64 = 17.0;
/// Heat flow below which a ribbon is left out, W.
const LEAST: f64 = 0.5;

/// Flows of heat at the joints with their two parts, W; below zero they go from the second part to the first.
fn flows(run: &Run, painted: &Painted<'_>) -> Vec<(Joint, [Channel; 2], f64)> {
    let one = |(joint, ([from, to], setting)): (&Joint, &([Channel; 2], &Parameter))| {
        Some((*joint, [*from, *to], run.setting(setting)? * (painted.value(*from) - painted.value(*to))))
    };
    painted.section.joints.iter().zip(&PATHS).filter_map(one).filter(|flow| flow.2.abs() >= LEAST).collect()
}

/// Draws the ribbons with their amounts, and the heat of slip at the rubbed faces.
pub fn draw(
    sheet: &Sheet<'_>,
    run: &Run,
    painted: &Painted<'_>,
    place: &impl Fn((f64, f64)) -> Place,
) -> Result<(), DrawError> {
    let flows = flows(run, painted);
    let most = flows.iter().map(|flow| flow.2.abs()).fold(0.0, f64::max);
    for (joint, parts, watts) in flows {
        let middle = place(joint.at);
        let along = (joint.towards.0 * watts.signum(), -joint.towards.1 * watts.signum());
        let half = 0.5 * (WIDEST * watts.abs() / most).max(1.6);
        let at = |forward: f64, aside: f64| {
            (middle.0 + forward * along.0 - aside * along.1, middle.1 + forward * along.1 + aside * along.0)
        };
        let head = half + 4.0;
        let arrow = [
            at(-LONG, half),
            at(LONG - head, half),
            at(LONG - head, head),
            at(LONG, 0.0),
            at(LONG - head, -head),
            at(LONG - head, -half),
            at(-LONG, -half),
        ];
        let words = power(watts.abs());
        let [from, to] = if watts < 0.0 { [parts[1], parts[0]] } else { parts }.map(|part| called(painted, part));
        sheet.says(&format!("{from} to {to} {words}"), || {
            sheet.shape(&arrow, PAPER, 0.9)?;
            sheet.outline(&arrow, TEXT, 0.9)
        })?;
        // Beside an upright arrow, above a lying one.
        if along.0 == 0.0 {
            sheet.on_paper(&words, (middle.0 + head + 5.0, middle.1), Type::TICK)?;
        } else {
            sheet.on_paper(&words, (middle.0 - LONG, middle.1 - head - 11.0), Type::TICK)?;
        }
    }
    let slip = painted.value(Channel::SlipPower);
    let lining = painted.section.pieces.iter().find(|piece| piece.channel == Some(Channel::LiningSurface));
    let Some(lining) = lining.filter(|_| slip >= LEAST) else { return Ok(()) };
    let (left, face) = lining
        .outline
        .iter()
        .map(|p| place(*p))
        .fold((f64::INFINITY, f64::INFINITY), |m, p| (m.0.min(p.0), m.1.min(p.1)));
    let right = lining.outline.iter().map(|p| place(*p).0).fold(f64::NEG_INFINITY, f64::max);
    sheet.line(&[(left, face), (right, face)], PAPER, 3.0, Some((3.0, 3.0)))?;
    sheet.on_paper(&format!("slip {}", power(slip)), (left + 8.0, face + 13.0), Type::TICK.bold(true))
}

/// Name of a part in the section.
fn called(painted: &Painted<'_>, part: Channel) -> &'static str {
    painted.section.pieces.iter().find(|piece| piece.channel == Some(part)).map_or("", |piece| piece.name)
}

/// A flow of heat, from W.
fn power(watts: f64) -> String {
    match watts {
        ..9.95 => format!("{} W", number(watts, 0.1)),
        9.95..995.0 => format!("{} W", number(watts, 1.0)),
        _ => format!("{} kW", number(1e-3 * watts, 0.1)),
    }
}
