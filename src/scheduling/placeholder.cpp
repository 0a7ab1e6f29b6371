namespace stillroom::scheduling {
int placeholder() { return 0; }
}  // namespace stillroom::scheduling
