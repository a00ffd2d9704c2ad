//! What every reading step hands out: plain structs with SI units in their names, the same for the
//! command line's `--json` and the server. Nothing computes here.

mod acres;
mod add;
mod background;
mod compare;
mod draw;
mod efficacy;
mod effort;
mod entry;
mod estimate;
mod findings;
mod keeping;
mod lake;
mod plan;
mod says;
mod shelf;
mod spread;
mod survey;
mod track;
mod trend;

pub use acres::{
    AcresView, BedsView, ExtentPointView, ExtentView, RatingAreaView, ShoreView, VariogramView,
};
pub use add::AddView;
pub use background::{BackgroundView, ControlPointView};
pub use compare::{
    CommunityView, CompareView, CountView, DifferenceView, NoiseBandView, OtherNamesView,
    RatingChangeView, RatingShiftView, RichnessChangeView, SiteGainView, SurveyBriefRef,
    TaxonChangeView, WarningView, WilcoxonView, ZoneChangeView,
};
pub use draw::{
    DrawView, DrawnAreaView, DrawnContourView, DrawnLandmarkView, FlagView, MeasureView, PlaceView,
};
pub use efficacy::{
    ContrastView, ControlView, DensityView, EffectView, EfficacyView, PartChangeView, PartSiteView,
    TaxonEffectView, TreatmentView,
};
pub use effort::{
    BoatView, CurveView, DaylightView, DesignView, DesignsView, EffortView, FormulaView,
    JudgedView, LegView, RouteView, RuleOfThumbView, SimulationView, StopView,
};
pub use entry::{
    BedBody, BedEntry, DayBody, EntrySiteView, EntryTaxonView, EntryView, HeaderBody,
    HeaderConflictView, HeaderEntry, ObservationBody, PlantAlertView, SaveBed, SaveDeletion,
    SaveHeader, SaveLogView, SaveShoreline, SaveSpecimen, SaveTaxon, SaveVisit, SavedVisit,
    ShorelineBody, ShorelineEntry, SignedView, SpeciesMatchView, SpecimenView, ThrowBody,
    UndoneView, VisitBody, VisitConflictView, VisitEntry, WordView,
};
pub use estimate::{
    AccumulationView, ChaoView, DetectionView, DiversityView, EstimateView, ExtrapolationView,
    GroupTaxonView, GroupView, RichnessEstimateView, RichnessView, WeightedEstimateView,
    WeightedTaxonView, WeightedView,
};
pub use findings::{
    AllLittoral, AllLittoralVegetated, DepthCountView, DepthQuartilesView, FindingsView,
    FloristicView, FrequencyView, RatingCountView, SitesCountView, SpeciesPerSiteView,
    TaxonFindingView,
};
pub use keeping::{
    AgreementTaxonView, AgreementView, ConflictFieldView, ConflictView, EntryDifferenceView,
    MergeView, PhotoView, PhotosView, ResolutionView, SaveChoice, SaveClock, SaveConflict,
    SavePhoto, SaveResolution, SaveSettlement, SecondEntriesView, SentPhotoView,
};
pub use lake::{
    BandView, BookView, ContourView, DatumDistanceView, DepthErrorView, DistanceAreaView,
    DistanceBandView, DistanceView, FetchView, HypsographyRow, IslandView, LakeView, LandmarkView,
    LittoralView, MapView, NotTakenView, OtherRegressionView, RegressionView, ShapeView,
    SlopeBandView, SlopeView, ZoneView,
};
pub use plan::{
    ParameterView, PlanDepthView, PlanPartView, PlanView, PlannedSiteView, SiteChangeView,
    ZoneCountView,
};
pub use says::{AlertView, BoardLimitView, FigureView, SentenceView};
pub use shelf::{ShelfBookView, ShelfView};
pub use spread::{
    AlongShoreView, FirstFoundView, ShiftView, SpreadSiteView, SpreadView, SpreadYearView,
};
pub use survey::{
    AmendmentView, BrokenView, CheckView, ColumnReadView, ConditionsView, CrewView, NewScaleView,
    ProgrammeScaleView, RecordResultView, RememberedColumnsView, SaveScale, ScaleBreakView,
    ScaleChoiceView, ScaleStandView, ScaleView, ScalesView, SealView, SheetReadView, SiteTaxonView,
    SiteView, SkippedRowView, StepView, SurveySitesView, SurveyView, TaxonListView, UnderstoodView,
    VerifyView,
};
pub use track::{SheetScanView, TrackSiteView, TrackView};
pub use trend::{BreakView, MannKendallView, PerYearView, TrendPointView, TrendView, TrendsView};
