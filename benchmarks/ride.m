% SPDX-License-Identifier: Apache-2.0
% octave ride.m FILE: scores many gearings on the speeds of a ride, whole vectors at a time, as GNU Octave does it best.
% FILE: speed and time of each pedalled stretch a line, as time-ride writes them. Prints ms, and the sum of the shares of
% time in the band, which must be that of time-ride.
data = load(argv(){1});
low = 60 / 60; high = 95 / 60;
best = inf;
for round = 1:5
  tic;
  [v, order] = sort(data(:, 1));
  before = [0; cumsum(data(order, 2))];
  gears = (1.2 + 1e-4 * (0:9999))' * 1.17 .^ (0:11);
  below = @(speed) reshape(before(lookup(v, speed(:)) + 1), size(speed));
  gaps = max(below(gears(:, 2:end) * low) - below(gears(:, 1:end-1) * high), 0);
  band = below(gears(:, end) * high) - below(gears(:, 1) * low) - sum(gaps, 2);
  total = sum(band) / sum(data(:, 2));
  best = min(best, 1000 * toc);
end
printf("score-many %.3f\nsum %.6f\n", best, total);
