//! The order in which the brake makes a part's bends, with tools, stops and forces.

mod plan;

pub use plan::{
    BendSide, Handling, Outcome, Plan, Refusal, Step, Stop, StopKind, ToolRun, ToolUse,
};
