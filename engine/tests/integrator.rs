//! The stepper against closed forms and against a reference problem.
mod systems;
use systems::reference::*;

#[test]
fn scan() {
    for tol in [0.3, 0.1, 0.03, 0.01,1e-3, 1e-4,1e-5] {
        for sw in [1.0,10.0] {
        let mut day = Day::new(tol, sw);
        let clock = std::time::Instant::now();
        day.cycles(400).unwrap();
        let used = clock.elapsed().as_secs_f64();
        let w = day.stepper.work;
        let dl = day.machine.peak.0 - 445.022480;
        let db = day.mean_bushing() - 357.168431;
        let s = day.slow;
        eprintln!("tol {tol} sw {sw}: {used:.3}s {:?} per h {:.0}; peak {dl:.2e} at {:.2}, meanBU {db:.2e} S {:.2e} x {:.2e} hl {:.2e} hw {:.2e} hb {:.2e} hd {:.2e} BU {:.2e} CC {:.2e}", w, w.steps as f64/6.889, day.machine.peak.1,
            s[0]-0.95309190, s[1]/0.00115301811-1.0, s[2]/114.19874-1.0, s[3]/42.684641-1.0, s[4]/2.0764871-1.0, s[5]/0.59590870-1.0, day.y[BUSHING]-357.124766, day.y[CRANKCASE]-366.675294);
        day.soak().unwrap();
        eprintln!("   S soak {:.2e} {:?} {:?}", day.slow[0]-0.95297582, day.stepper.work, &day.machine.events[..6]);
        }
    }
}
