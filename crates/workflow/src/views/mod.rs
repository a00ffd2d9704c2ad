//! What every reading step hands out: plain structs with SI units in their names, the same for the
//! command line's `--json` and the server. Nothing computes here.

mod add;
mod compare;
mod effort;
mod findings;
mod lake;
mod plan;
mod survey;

pub use add::AddView;
pub use compare::{
    CompareView, CountView, DifferenceView, SurveyBriefRef, TaxonChangeView, WarningView,
};
pub use effort::{
    BoatView, CurveView, DaylightView, DesignView, DesignsView, EffortView, FormulaView,
    JudgedView, LegView, RouteView, RuleOfThumbView, SimulationView, StopView,
};
pub use findings::{
    AllLittoral, AllLittoralVegetated, DepthCountView, FindingsView, FloristicView, FrequencyView,
    RatingCountView, RichnessView, SitesCountView, SpeciesPerSiteView, TaxonFindingView,
};
pub use lake::{
    BandView, BookView, ContourView, DepthErrorView, FetchView, HypsographyRow, IslandView,
    LakeView, LandmarkView, LittoralView, MapView, ShapeView, ZoneView,
};
pub use plan::{
    ParameterView, PlanDepthView, PlanPartView, PlanView, PlannedSiteView, SiteChangeView,
    ZoneCountView,
};
pub use survey::{
    AmendmentView, BrokenView, CheckView, ConditionsView, CrewView, RecordResultView, ScaleView,
    SealView, SiteTaxonView, SiteView, StepView, SurveySitesView, SurveyView, TaxonListView,
    VerifyView,
};
