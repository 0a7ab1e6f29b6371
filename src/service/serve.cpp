#include "service/serve.h"

#include <httplib.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <thread>

#include "service/detail/http.h"
#include "service/service.h"

namespace stillroom::service {
namespace {

constexpr int kPortsTried = 20;
constexpr const char* kLoopback = "127.0.0.1";

sigset_t ending_signals() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGTERM);
  sigaddset(&set, SIGINT);
  return set;
}

/// Blocks the ending signals while it lives, in this thread and in those begun meanwhile, so that one thread can wait
/// for them.
class SignalsHeld {
 public:
  SignalsHeld() : set_(ending_signals()) { pthread_sigmask(SIG_BLOCK, &set_, &before_); }
  ~SignalsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;

 private:
  sigset_t set_;
  sigset_t before_{};
};

int first_free_port(httplib::Server& server, int wanted) {
  for (int port = wanted; port < wanted + kPortsTried && port <= 65535; ++port) {
    if (server.bind_to_port(kLoopback, port)) return port;
  }
  return 0;
}

measure::Instant machine_now() { return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now()); }

void print_address(int port) {
  std::printf("Stillroom is open at http://localhost:%d/\nPress Ctrl-C to close it.\n", port);
  std::fflush(stdout);
}

}  // namespace

measure::Result<void> serve(app::House& house, const ServeOptions& options) {
  const SignalsHeld held;
  Service service(house, options.clock ? options.clock : machine_now, options.plan_seconds);
  httplib::Server server;
  detail::connect(server, service);
  const int port = first_free_port(server, options.port);
  if (port == 0) {
    return measure::refuse("no_port", "No free port was found from " + std::to_string(options.port) + " on.",
                           {"Choose another with --port."});
  }
  service.planner.start();
  std::atomic<bool> closed = false;
  std::thread ending([&] {
    const sigset_t set = ending_signals();
    int signal = 0;
    sigwait(&set, &signal);
    service.events.stop();
    // A server that does not listen yet cannot be stopped.
    while (!closed && !server.is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(5));
    if (!closed) server.stop();
  });
  const auto end = [&] { pthread_kill(ending.native_handle(), SIGINT); };
  {
    const std::stop_callback asked(options.stop, end);
    (options.listening ? options.listening : print_address)(port);
    server.listen_after_bind();
  }
  closed = true;
  end();  // in case the listening ended by itself
  ending.join();
  service.events.stop();
  service.planner.stop();
  return {};
}

}  // namespace stillroom::service
