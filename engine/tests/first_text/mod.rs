//! The settings of the first text on the machine, which its published checks were worked with.

use slipsoak_engine::parts::Machine;

/// The machine with the first text's capacities, areas and inertias, rounded as they were, and its cooling: none by the chain.
pub fn first_text(mut machine: Machine) -> Machine {
    let m = &mut machine;
    (m.motor.inertia, m.drum.inertia, m.drum.web_area, m.washer.rim_area) = (0.021, 0.0011, 79e-4, 77e-6);
    (m.heat.web, m.heat.bushing, m.heat.washer, m.heat.shoes) = (112.0, 18.8, 1.6, 192.0);
    (m.heat.convection, m.heat.chain) = (1.0, 0.0);
    machine
}
