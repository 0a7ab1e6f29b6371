namespace stillroom::service {
int placeholder() { return 0; }
}  // namespace stillroom::service
