#pragma once

#include <string>
#include <vector>

#include "app/app.h"
#include "app/views.h"
#include "planning/plan.h"
#include "planning/what_if.h"

/// Views as text for a terminal: 80 columns, no colour codes, strips drawn with characters.
namespace stillroom::cli {

[[nodiscard]] std::string to_text(const app::DayView& v);
[[nodiscard]] std::string to_text(const app::AheadView& v);
[[nodiscard]] std::string to_text(const app::LotView& v);
[[nodiscard]] std::string to_text(const app::BatchView& v);
[[nodiscard]] std::string to_text(const std::vector<app::BatchView>& v);  ///< the open ones, a few lines each
[[nodiscard]] std::string to_text(const std::vector<app::TimerView>& v);
/// The whole card to print: boxes to tick, room for times.
[[nodiscard]] std::string card_text(const app::BatchView& v);
[[nodiscard]] std::string to_text(const app::LarderView& v);
[[nodiscard]] std::string to_text(const std::vector<app::StartQuestion>& v);
[[nodiscard]] std::string to_text(const std::vector<app::HistoryLine>& v);
[[nodiscard]] std::string to_text(const app::ForecastView& v);
[[nodiscard]] std::string to_text(const std::vector<planning::WhatIf>& v);
[[nodiscard]] std::string to_text(const planning::Why& v, const std::string& lot_name);

/// One fading strip as characters, one per step: '#' nearly all sound, '=' most, '-' half, '.' little, ' ' none; '|'
/// begins a planned stage, ':' a hold.
[[nodiscard]] std::string strip_line(const app::StripView& strip, std::size_t width);

/// Text broken at spaces so that no line passes `width`, continued lines indented.
[[nodiscard]] std::string wrapped(const std::string& text, std::size_t width, std::size_t indent);

}  // namespace stillroom::cli
