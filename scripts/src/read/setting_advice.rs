//! Suggestions for settings that do not exist.

use crate::read::units::nearest;
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_engine::parts_file::similarity;

/// Everyday names of settings, and their paths.
const CALLED: &[(&str, &str)] = &[
    ("weight", "vehicle.mass"),
    ("vehicle.weight", "vehicle.mass"),
    ("load", "vehicle.mass"),
    ("gear", "vehicle.ratio"),
    ("gearing", "vehicle.ratio"),
    ("gear_ratio", "vehicle.ratio"),
    ("vehicle.gearing", "vehicle.ratio"),
    ("spring", "clutch.engagement"),
    ("springs", "clutch.engagement"),
    ("clutch.spring", "clutch.engagement"),
    ("clutch.springs", "clutch.engagement"),
    ("clutch.speed", "clutch.engagement"),
    ("governor", "motor.full_load"),
    ("motor.governor", "motor.full_load"),
    ("temperature", "surroundings.ambient"),
    ("ambient_temperature", "surroundings.ambient"),
    ("slope", "surroundings.grade"),
    ("surroundings.slope", "surroundings.grade"),
    ("sprocket", "drum.teeth"),
    ("drum.sprocket", "drum.teeth"),
    ("bushing.wear_oiled", "bushing.wear_boundary"),
    ("bushing.wear_starved", "bushing.wear_boundary"),
    ("bushing.viscous_most", "bushing.clearance"),
    ("heat.washer_sprocket", "washer.contact"),
    ("heat.washer_carrier", "washer.contact"),
];
/// Sizes usually given as a diameter, and the corresponding radius setting.
const DIAMETERS: &[(&str, &str)] = &[
    ("wheel", "vehicle.wheel_radius"),
    ("wheel_diameter", "vehicle.wheel_radius"),
    ("vehicle.wheel", "vehicle.wheel_radius"),
    ("vehicle.wheel_diameter", "vehicle.wheel_radius"),
    ("drum.diameter", "drum.radius"),
    ("drum_diameter", "drum.radius"),
];
/// Properties that are not numbers, and how to set them.
const WORDS: &[(&[&str], &str)] = &[
    (
        &["lining_kind", "lining", "lining.kind"],
        "the kind of lining is set at the top level of a parts file, \"lining_kind\": \"sintered\", or in a script by `machine.lined(\"sintered\")`",
    ),
    (
        &["oil", "bushing.oil"],
        "the oil is set at the top level of a parts file, \"oil\": \"SAE 30\", or in a script by `machine.oiled(\"SAE 30\")`",
    ),
    (
        &["form", "clutch.form"],
        "the form of the shoes is set at the top level of a parts file, \"form\": \"leading\", or in a script by `machine.formed(\"leading\")`",
    ),
    (
        &["idle_kind", "motor.idle_kind", "motor.governed", "governed"],
        "what holds the idle is set at the top level of a parts file, \"idle_kind\": \"throttle stop\" or \"governed\", or in a script by `machine.idling(\"governed\")`",
    ),
    (
        &["name"],
        "a name is given in a parts file, \"name\": \"my cart\", or in a script by `machine.called(\"my cart\")`",
    ),
    (
        &["brake", "throttle", "speed", "launch", "hold"],
        "what is ridden is the duty's, in a script: `ride.launch(20.km_h)`, `ride.hold(20.km_h, 1.min)`, `ride.brake(1.5)`",
    ),
    (&["about"], "it is a note that only a parts file holds"),
    (
        &["torque", "motor.torque", "power", "motor.power"],
        "the motor's torque curve is set in a parts file, \"motor\": {\"torque\": [[\"1800 rpm\", \"10.7 N*m\"], …]}, or sketched by `slipsoak choose --power \"6.5 hp\" --rated \"3600 rpm\"`",
    ),
];

/// Smallest similarity to the path of a setting for a suggestion.
const LIKE: f64 = 0.85;

/// Suggestion for a path that does not exist.
pub fn advice(path: &str) -> String {
    let given = path.trim().to_lowercase();
    if let Some(word) = WORDS.iter().find(|word| word.0.contains(&given.as_str())) {
        return word.1.to_owned();
    }
    if let Some((_, radius)) = DIAMETERS.iter().find(|size| size.0 == given) {
        return format!("did you mean `{radius}`? It is half of the diameter");
    }
    let named = |path: &str| PARAMETERS.iter().find(|p| p.path == path);
    let called = CALLED.iter().find(|called| called.0 == given).and_then(|called| named(called.1));
    let called = called.or_else(|| PARAMETERS.iter().find(|p| p.name.to_lowercase() == given));
    if let Some(p) = called {
        return format!("did you mean `{}`, the {}?", p.path, p.name);
    }
    let own = PARAMETERS.iter().filter(|p| p.path.split('.').next() == Some(&given)).map(|p| p.path);
    let own: Vec<&str> = own.collect();
    if !own.is_empty() {
        return format!("it is a part, and its settings are: {}", own.join(", "));
    }
    let ends = PARAMETERS.iter().filter(|p| p.path.split('.').next_back() == Some(&given)).map(|p| p.path);
    let ends: Vec<String> = ends.map(|path| format!("`{path}`")).collect();
    if !ends.is_empty() {
        return format!("did you mean {}?", ends.join(" or "));
    }
    match nearest(path, PARAMETERS.iter().map(|p| p.path)) {
        Some(near) if similarity(&near, &given) > LIKE => {
            format!("did you mean `{near}`? (`slipsoak settings` lists them all)")
        }
        _ => "`slipsoak settings` lists them all".to_owned(),
    }
}
