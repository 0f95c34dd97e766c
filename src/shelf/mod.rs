//! What stands on the shelf: materials, fasteners, the shop's machines and rules, containers. All
//! of it is data in `templates/shop` and `templates/containers`.

mod bend;
mod bending;
mod container;
mod fastener;
mod material;
mod read;
mod read_container;
mod read_shop;
mod read_stock;
mod rates;
mod row;
mod shop;
mod stock;
mod tolerance;

pub use bending::{
    DIN_6935, PREFERRED_RADII, compensation, correction, least_radius, neutral_factor,
    preferred_radius,
};
pub use container::{
    Container, Corrugation, Fitting, Floor, ForkPocket, Gooseneck, Member, PanelRun, Rail, Roof,
    Size, WallName, WallPlan,
};
pub use fastener::{Fastener, FastenerKind, GripRange, Holes, Tool};
pub use material::{GaugeTable, Material};
pub use rates::Rates;
pub use shop::{
    BendEntry, BendLines, BendRule, BendSource, Brake, Die, Drawing, Gaps, Laser, LayerStyle,
    Layers, Punch, Shop, ToolShape,
};
pub use stock::{
    Blocked, CuttingSpeeds, Extra, Remnant, SheetWork, SpeedRow, StockSheet, same_thickness,
};
pub use tolerance::{Spread, Tolerance, laser_limit};

/// All data of the shop, read and checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    /// Sheet materials in the order of their file.
    pub materials: Vec<Material>,
    /// Fasteners in the order of their file.
    pub fasteners: Vec<Fastener>,
    /// The shop's machines, rules and drawing defaults.
    pub shop: Shop,
    /// Containers in the order of their files.
    pub containers: Vec<Container>,
    /// The data files and what each of them holds.
    pub files: Vec<ShelfFile>,
}

/// What a data file holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShelfFile {
    /// Its name, as findings give it.
    pub name: String,
    /// Ids of the containers in it.
    pub containers: Vec<String>,
    /// Whether it holds anything besides containers: all kits are made from that.
    pub common: bool,
}

impl Shelf {
    /// The material with this id.
    pub fn material(&self, id: &str) -> Option<&Material> {
        self.materials.iter().find(|m| m.id == id)
    }

    /// The fastener with this id.
    pub fn fastener(&self, id: &str) -> Option<&Fastener> {
        self.fasteners.iter().find(|f| f.id == id)
    }

    /// The container with this id.
    pub fn container(&self, id: &str) -> Option<&Container> {
        self.containers.iter().find(|c| c.id == id)
    }

    /// Names of the files that a kit in these containers is made from, in their order.
    pub fn files_for<'s>(&'s self, containers: &'s [&str]) -> impl Iterator<Item = &'s str> {
        let holds = |file: &ShelfFile| file.containers.iter().any(|c| containers.contains(&&**c));
        let used = self.files.iter().filter(move |file| file.common || holds(file));
        used.map(|file| file.name.as_str())
    }
}
