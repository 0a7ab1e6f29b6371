#include "share/detail/avahi.h"

#include <dlfcn.h>

#include <memory>

// The few functions of avahi-client and avahi-common 0.8 (LGPL-2.1+) that are asked, as their headers declare them.
namespace stillroom::share::detail {
namespace {

struct Poll;    // AvahiSimplePoll
struct Api;     // AvahiPoll
struct Client;  // AvahiClient
using Called = void (*)(Client*, int, void*);

struct Closes {
  void operator()(void* library) const { dlclose(library); }
};
using Library = std::unique_ptr<void, Closes>;

template <class Function>
Function named(const Library& library, const char* name) {
  return reinterpret_cast<Function>(dlsym(library.get(), name));
}

void ignore(Client* /*client*/, int /*state*/, void* /*data*/) {}

}  // namespace

std::optional<std::string> avahi_host() {
  // What they use keeps memory of its own to the end: unloaded and loaded again it would be kept anew each time.
  constexpr int kHow = RTLD_NOW | RTLD_LOCAL | RTLD_NODELETE;
  const Library common(dlopen("libavahi-common.so.3", kHow));
  const Library client(dlopen("libavahi-client.so.3", kHow));
  if (common == nullptr || client == nullptr) return std::nullopt;
  const auto poll_new = named<Poll* (*)()>(common, "avahi_simple_poll_new");
  const auto poll_api = named<const Api* (*)(Poll*)>(common, "avahi_simple_poll_get");
  const auto poll_free = named<void (*)(Poll*)>(common, "avahi_simple_poll_free");
  const auto client_new = named<Client* (*)(const Api*, int, Called, void*, int*)>(client, "avahi_client_new");
  const auto client_host = named<const char* (*)(Client*)>(client, "avahi_client_get_host_name");
  const auto client_free = named<void (*)(Client*)>(client, "avahi_client_free");
  if (!poll_new || !poll_api || !poll_free || !client_new || !client_host || !client_free) return std::nullopt;
  const std::unique_ptr<Poll, void (*)(Poll*)> poll(poll_new(), poll_free);
  if (poll == nullptr) return std::nullopt;
  int error = 0;
  const std::unique_ptr<Client, void (*)(Client*)> asked(client_new(poll_api(poll.get()), 0, ignore, nullptr, &error),
                                                         client_free);
  if (asked == nullptr) return std::nullopt;
  const char* host = client_host(asked.get());
  return host == nullptr || *host == '\0' ? std::nullopt : std::optional<std::string>(host);
}

}  // namespace stillroom::share::detail
