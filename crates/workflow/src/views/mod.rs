//! What every reading step hands out: plain structs with SI units in their names, the same for the
//! command line's `--json` and the server. Nothing computes here.

mod add;
mod compare;
mod effort;
mod findings;
mod lake;
mod survey;

pub use add::AddView;
pub use compare::{
    CompareView, CountView, DifferenceView, SurveyBriefRef, TaxonChangeView, WarningView,
};
pub use effort::{
    BoatView, DaylightView, EffortView, FormulaView, LegView, RouteView, RuleOfThumbView,
    SimulationView, StopView,
};
pub use findings::{
    AllLittoral, AllLittoralVegetated, DepthCountView, FindingsView, FloristicView, FrequencyView,
    RatingCountView, RichnessView, SitesCountView, SpeciesPerSiteView, TaxonFindingView,
};
pub use lake::{
    BandView, BookView, ContourView, DepthErrorView, FetchView, HypsographyRow, IslandView,
    LakeView, LandmarkView, LittoralView, MapView, ShapeView, ZoneView,
};
pub use survey::{
    AmendmentView, BrokenView, CheckView, ConditionsView, CrewView, PlanPartView, PlanView,
    PlannedSiteView, RecordResultView, ScaleView, SealView, SiteTaxonView, SiteView, StepView,
    SurveySitesView, SurveyView, TaxonListView, VerifyView,
};
