/// Effort, layouts and routes.
pub trait PlanDesk: Send + Sync + 'static {}
