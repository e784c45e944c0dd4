//! Answers to the shop's questions made up by formulas.

use serde_json::{Value, from_value, json};
use slipsoak_engine::document::Head;
use slipsoak_engine::measure_plan::{MeasurePlan, effort};
use slipsoak_engine::names::Method;
use slipsoak_engine::oil_plan::OilPlan;
use slipsoak_engine::season::Season;
use slipsoak_engine::spring_choice::Choice;
use slipsoak_engine::stack_up::Gaps;

const RPM: f64 = std::f64::consts::PI / 30.0;
const HOUR: f64 = 3600.0;

/// A spring: below idle it drags, far above it the lining gets hot, between it fits.
fn spring(rpm: f64) -> Value {
    let (near, far) = (rpm < 1800.0, rpm > 2300.0);
    let verdict = if near || far { "unfit" } else { "fits" };
    let reasons = if far {
        json!([{"hot": {"part": "lining", "peak": 459.6, "limit": 423.15}}])
    } else {
        Value::from(vec![0; 0])
    };
    let lining = 450.0 + 0.1 * (rpm - 1900.0).abs();
    let life = 4e6 * HOUR / rpm;
    json!({
        "name": format!("{rpm} rpm"), "engagement": rpm * RPM, "verdict": verdict, "reasons": reasons,
        "found": {
            "settled": 0.95 * rpm * RPM, "margin": 10.0, "floor": 9.0, "drag": null, "lock_speed": 0.003 * rpm,
            "balance": {"motor": 270.0, "torque": 11.0, "vehicle": 0.0038 * rpm},
            "launch": {"speed": 8.0, "time": 9.0, "locks": 8.0, "heat": 1e4, "back": 0.0, "back_speed": 0.0},
            "peaks": {
                "lining": lining, "drum": lining, "bushing": 400.0, "washer": 400.0, "washer_dry": null,
                "shoes": 400.0, "slip": 130.0, "rising": 2.0
            },
            "fill": 0.93, "warnings": [], "crawl": null, "steepest": 0.12, "life": life, "ended_by": "lining",
            "range": [life / 2.8, life * 2.8]
        }
    })
}

/// Springs from below idle to far above it; the trade's is not the computed one.
pub fn choice() -> Choice {
    from_value(json!({
        "kind": "choice",
        "machine": "orchard cart", "usage": "between the trees", "idle": 1700.0 * RPM, "wander": 75.0 * RPM, "grade": 0.04,
        "load": 0.0, "crawl": null, "season": 300.0 * HOUR, "simulated": 2400.0, "lining_kind": "woven", "lining_most": 523.15, "sketched": null,
        "trade": {"rule": 1900.0 * RPM, "spring": "1900 rpm", "made_of": null}, "best": "2000 rpm",
        "best_steady": "2000 rpm", "springs": (16..=30).map(|n| spring(100.0 * f64::from(n))).collect::<Vec<_>>(),
        "least_unsuitable": null, "assumed": [], "settings": [], "head": Head::default()
    }))
    .expect("a choice")
}

/// A washer and a gap that wear, kept oiled and ten times as fast run dry.
pub fn gaps() -> Gaps {
    let course = |name: &str, lasts: f64| {
        let point = |k: i32| {
            let hours = 10f64.powf(f64::from(k) / 12.0 - 1.0);
            let left =
                |new: f64| [3.0, 1.0, 0.3].map(|faster: f64| f64::max(new * (1.0 - hours * faster / lasts), 0.0));
            json!({"time": hours * HOUR, "washer": left(7.6e-4), "gap": left(2.4e-3)})
        };
        let when = json!({"time": lasts * HOUR, "early": 0.3 * lasts * HOUR, "late": 3.0 * lasts * HOUR});
        json!({
            "name": name, "washer": 400.0, "fails": null, "beyond": null, "points": (0..60).map(point).collect::<Vec<_>>(),
            "washer_due": when, "bronze_on_steel": when, "tight": when, "touches": when
        })
    };
    from_value(json!({
        "kind": "gaps",
        "machine": "orchard cart", "usage": "between the trees",
        "layers": [{"name": "washer", "size": 7.6e-4, "tolerance": 7.6e-5}],
        "stack": {
            "nominal": 2.4e-3, "worst": 2e-4, "rss": 1.5e-4, "below_limit": 0.0, "below_zero": 0.0,
            "drawn": {"mean": 2.4e-3, "low": 2.3e-3, "high": 2.5e-3, "below_limit": 0.0, "error": 0.0}
        },
        "limit": 2.5e-4, "washer_limit": 2.5e-4, "courses": [course("kept oiled", 1000.0), course("run dry", 100.0)],
        "assemblies": 1000, "clearance": "clears", "sag": null, "against": [], "sought": null, "slipping": null, "assumed": [], "settings": [], "head": Head::default()
    }))
    .expect("gaps")
}

/// A plan in which the first outing empties the bushing at the greatest leakage.
pub fn oiling() -> OilPlan {
    let lasts = |name: &str, per_hour: f64, grease: f64, due: f64| {
        json!({
            "name": name, "leak": per_hour / HOUR, "oil_life": 1000.0 * HOUR, "grease": grease, "outing": 2400.0, "fill": [[0.0, 1.0]],
            "due": due * HOUR, "end": null
        })
    };
    let waits = [30.0, 120.0, 300.0, 600.0, 1800.0, 7200.0, 43_200.0];
    let habit = |warm: bool, least: f64| {
        let kept = waits.iter().enumerate().map(|(k, wait)| (*wait, least + 0.1 * k as f64)).collect::<Vec<_>>();
        json!({"warm": warm, "kept": kept})
    };
    let dose = |drops: f64| json!({"drops": drops, "kept": 1.0 / drops, "on_lining": 1e-7, "grip": 1.0 - 0.03 * drops});
    let doses = [1.0, 2.0, 4.0, 8.0, 12.0, 20.0].map(dose);
    from_value(json!({
        "kind": "oiling",
        "machine": "orchard cart", "usage": "between the trees", "oil": "SAE 30", "riding": 2400.0, "rest": 84_000.0,
        "leak": 0.1 / HOUR, "due_at": 0.7, "full_drops": 30.0, "full_mass": 1.05e-3,
        "lasts": [
            lasts("as set", 0.1, 0.0, 100.0), lasts("least leak", 0.0056, 0.0, 420.0), lasts("most leak", 1.8, 0.0, 0.45),
            lasts("with grease", 0.1, 5e-7, 190.0)
        ],
        "drops": 4.0, "dose": 3.0, "advised": "yearly", "advised_at_most_leak": "never", "weighing": null, "drops_when_due": 10.0, "warm_room": 2.7,
        "found": 0.85, "habits": [habit(false, 0.2), habit(true, 0.35)],
        "doses": doses, "oils": [], "beyond": null, "sag": null, "against": [], "sought": null, "slipping": null, "assumed": [],
        "settings": [], "head": Head::default()
    }))
    .expect("a plan")
}

/// What to measure for an oiling: each way to measure narrows a little less than the one before.
pub fn measure() -> MeasurePlan {
    let hours = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    let candidate = |(k, method): (usize, &Method)| {
        let (each, twice) = effort(*method);
        let (wait, times) = if twice { (20.0 * HOUR, 2.0) } else { (0.0, 1.0) };
        json!({
            "method": method, "wait": wait, "minutes": each / 60.0 * times, "deviation": 0.25 + 0.1 * k as f64,
            "by_slope": 0.1 + 0.1 * k as f64, "bits": 2.7 / (k + 1) as f64, "change": 0.43 / (k + 1) as f64,
            "gain": 0.02 / (k + 1) as f64, "error": 0.002
        })
    };
    from_value(json!({
        "kind": "measure", "head": Head::default(), "machine": "orchard cart", "usage": "between the trees", "riding": 2400.0,
        "rest": 84_000.0, "decision": "oiling", "actions": hours.map(|hours| json!({"every": hours * HOUR})), "now": 3,
        "prior": {"low": 7.0 * HOUR, "middle": 55.0 * HOUR, "high": 440.0 * HOUR, "deviation": 1.26, "beyond": 0.0},
        "samples": 128, "failed": 1, "perfect": 0.025, "safe": 7.0 * HOUR,
        "candidates": Method::ALL.iter().enumerate().map(candidate).collect::<Vec<_>>(), "best": 0, "quickest": 4,
        "pair": {"of": [0, 9], "deviation": 0.2, "change": 0.5, "gain": 0.023, "error": 0.001},
        "learns": [{"path": "oiling.leak", "left": 0.16}], "settings": []
    }))
    .expect("a plan")
}

/// A season of three carts by two policies; the second loses more days.
pub fn season() -> Season {
    let need = |part: &str, half: u64, most: u64| {
        json!({
            "part": part, "mean": half, "error": 0.1, "half": half, "nine_tenths": half.max(most.saturating_sub(1)),
            "low": half, "high": most, "most": most, "stock": half.max(1), "met_at_once": 0.94, "common": 0.9
        })
    };
    let week = |k: i64| {
        let start = slipsoak_engine::calendar::Date(20_909 + 7 * k).to_string();
        json!({"start": start, "down": 0.1 * k as f64, "worst": 0.2 * k as f64, "renewed": 0.3})
    };
    let event = |cart: u64, date: &str, what: &str, part: Value, used: f64| json!({"cart": cart, "date": date, "what": what, "part": part, "used": used});
    let events = vec![
        event(1, "2027-04-05", "oiled", Value::Null, 0.0),
        event(2, "2027-04-20", "stopped", json!("washer"), 1.0),
        event(2, "2027-04-22", "renewed", json!("washer"), 1.0),
        event(3, "2027-05-03", "renewed_early", json!("lining"), 0.82),
        event(1, "2027-05-08", "stopped", json!("bushing seized"), 1.01),
        event(1, "2027-05-09", "oil_due", Value::Null, 0.0),
    ];
    let outcome = |policy: Value, down: f64, half: u64| {
        json!({
            "policy": policy,
            "needs": [need("washer", half, half + 6), need("lining", 1, 2), need("bushing", 0, 1), need("spring", 0, 0)],
            "together": [0.31, 0.78], "oil": 6e-6, "oilings": 8, "oiled": 7.2, "lacked": 2.6, "lacked_most": 3.4, "down": {"mean": down, "error": 0.2, "nine_tenths": 2.0 * down}, "due": 0.3,
            "grabbed": 0.2,
            "first_stop": {
                "share": 0.9, "part": "washer", "tenth": {"estimate": 9.5, "low": null, "high": null},
                "half": {"estimate": 30.2, "low": 20.0, "high": 40.0}
            },
            "weeks": (0..9).map(week).collect::<Vec<_>>(), "cost": null, "events": events
        })
    };
    let weekly = json!({"oiling": {"drops": 4.0, "on": {"weekday": 0}, "before_opening": false}, "preventive": 0.8});
    let never = json!({"oiling": null, "preventive": null});
    let by = |mean: f64| json!({"mean": mean, "error": 0.3, "first_less": 0.8, "other_less": 0.1});
    from_value(json!({
        "kind": "season", "head": Head::default(), "machine": "trail cart", "usage": "rental", "oil": "SAE 30", "drop": 4e-8,
        "question": {
            "carts": 3, "first": "2027-04-01", "last": "2027-05-31", "weekdays": [false, false, true, true, true, true, true],
            "hours": 6.0 * HOUR, "days": 44, "temperatures": [[4, 281.15], [5, 285.15]], "used": [], "stock": [],
            "lead": null, "prices": null
        },
        "policies": [outcome(weekly, 3.0, 2), outcome(never, 6.0, 3)],
        "pairs": [{"other": 1, "parts": by(1.4), "down": by(3.0), "cost": null}],
        "samples": 200, "split": [{"path": "washer.wear_oiled", "spread": {"factor": 10.0}, "common": 0.98}],
        "map": {
            "runs": 440, "failed": 0, "errors": [{"rate": "washer", "median": 0.004, "most": 0.015, "low": 0.5}, {"rate": "oil", "median": 0.02, "most": 0.06, "low": 0.4, "raised": 0.05}],
            "direct": [{"cart": 1, "days": 10, "lining": 1.02, "bore": 1.04, "washer": 0.99, "fill": 0.01}]
        },
        "near_idle": 0.0, "settings": []
    }))
    .expect("a season")
}
