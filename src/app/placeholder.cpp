namespace stillroom::app {
int placeholder() { return 0; }
}  // namespace stillroom::app
