//! The order in which the brake makes a part's bends, with tools, stops and forces.
