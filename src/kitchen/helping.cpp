#include "kitchen/helping.h"

#include <algorithm>

namespace stillroom::kitchen {

int carrying_age(double kg) {
  if (kg <= 0) return 0;
  if (kg <= 2) return 5;
  if (kg <= 5) return 8;
  if (kg <= 10) return 12;
  return kg <= 20 ? 16 : 18;
}

int least_age_for(const HelpJob& job) {
  int age = std::max(job.least_age, carrying_age(job.carries_kg));
  for (const std::string& danger : job.dangers) {
    // A danger this program has no floor for is taken for the worst of them.
    const int floor = almanac::age_floor(danger);
    age = std::max(age, floor == 0 ? 18 : floor);
  }
  if (job.heat_process) age = std::max(age, almanac::age_floor("heat"));
  if (job.cautioned) age = std::max(age, kCautionAge);
  return age;
}

bool suits(const Helper& helper, const HelpJob& job) {
  if (helper.needs_minding || helper.age < least_age_for(job)) return false;
  return job.skill.empty() || std::ranges::find(helper.skills, job.skill) != helper.skills.end();
}

HelpJob job_of(const Step& step, const almanac::Route* route) {
  HelpJob job{.least_age = step.least_age,
              .dangers = {},
              .skill = {},
              .cautioned = !step.caution.empty(),
              .heat_process = step.shows_process};
  const almanac::Stage* stage = route == nullptr ? nullptr : route_stage(*route, step.stage);
  if (stage == nullptr) return job;
  job.least_age = std::max(job.least_age, stage->least_age);
  job.dangers = stage->dangers;
  job.skill = stage->skill;
  job.cautioned = job.cautioned || !stage->caution.empty();
  return job;
}

}  // namespace stillroom::kitchen
