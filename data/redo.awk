function abs(x) { return x < 0 ? -x : x }
function max(a, b) { return a > b ? a : b }
function min(a, b) { return a < b ? a : b }
# as printed with 12 digits, and no difference below a nanometer matters
function same(what, mine) { if (q[what] != "") near(what, mine, 1e-9 + 1e-9 * abs(mine)) }
function near(what, mine, by) { if (abs(mine - q[what]) > by) { print what, "is", q[what], "and not", mine; bad++ } checked++ }
# the integral of cos^(nu-1) up to atan(t / sqrt nu) is Student's t
function cosines(nu, to,    i, sum) { for (i = 0; i <= 2000; i++) sum += (i == 0 || i == 2000 ? 1 : i % 2 ? 4 : 2) * cos(to * i / 2000) ^ (nu - 1); return sum * to / 6000 }
function t95(nu,    low, high, middle, whole) {
  if (nu > 60) return 2
  whole = cosines(nu, atan2(1, 0)); low = 1; high = 20
  while (high - low > 1e-12) { middle = (low + high) / 2; if (cosines(nu, atan2(middle, sqrt(nu))) < 0.95 * whole) low = middle; else high = middle }
  return middle
}
# a mean of few readings: its u, t u, and degrees of freedom
function sample(u, tu, freedom) { if (freedom > 0) { fourth += u ^ 4 / freedom; largest = max(largest, tu) } }
# one limit that is taken as anything up to it
function flat(bound) { wb += bound; wu += bound ^ 2 / 3 }
# what is left over for a curvature of K, what k explains it, and all that may fake it
function left(K) { return C - K * span / 2 }
function dk(K) { return left(K) * span > 0 ? q["dk_low"] : q["dk_high"] }
function distances(K, power,    i, sum) { for (i = 1; i <= lengths; i++) sum += (power == 1 ? 2 : 1) * abs((la[i] + K * lb[i]) * lu[i]) ^ power; return sum }
function everything(K) { return Brest + dk(K) * d2 / (2 * R0) + distances(K, 1) }
function total(K) { return q["decides"] == "all" ? everything(K) : min(max(t * sqrt(u2rest + (dk(K) / 2 * air) ^ 2 + distances(K, 2)), largest), everything(K)) }
function side(step,    a, b, i, middle) {
  a = 2 * C / span
  while (abs(left(a + step)) <= total(a + step)) { a += step; step *= 2 }
  b = a + step
  for (i = 0; i < 100; i++) { middle = (a + b) / 2; if (abs(left(middle)) <= total(middle)) a = middle; else b = middle }
  return a
}
# a loop or a link: its misclosure, corrected where it can be, against the rule that it was held to
function closing(    most, miss) {
  if (q["allowable_per_km"] != "") most = q["allowable_per_km"] * sqrt(q["allowable_length"] / 1000)
  else if (q["allowable_per_setup"] != "") most = q["allowable_per_setup"] * sqrt(q["setups"])
  if (q["allowable_cap"] != "") most = min(most, q["allowable_cap"])
  if (most) same("allowable", most)
  miss = abs(q["corrected"] != "" ? q["corrected"] : q["misclosure"])
  print checked + 0 " numbers, " bad + 0 " differ"
  print (q["kind"] == "open" || q["misclosure"] == "" ? "no misclosure" : !most ? "held to no rule" : miss <= most ? "within the allowable" : "over the allowable")
}
# a name with a comma stands in quotes
{ gsub(/\r/, ""); q[$1] = match($0, /,".*",/) ? substr($0, RSTART + 1, RLENGTH - 2) : $2; if ($1 ~ /^sight_[0-9]+_s$/) n++; if ($1 ~ /^instrument_[0-9]+_g$/) m++; if ($1 ~ /^declared_[0-9]+_bound/) dn++; if ($1 ~ /^length_[0-9]+_d$/) lengths++ }
END {
  R = q["R"]; R0 = q["R0"]; k = q["k"]
  for (i = 1; i <= n; i++) {
    p = "sight_" i "_"; s = q[p "s"]; w = q[p "w"]; d = q[p "d"]; j = q[p "instrument"]
    c = d * d / (sqrt(R * R + d * d) + R); r = k * d * d / (2 * R0)
    same(p "c", c); same(p "r", r)
    sb += w * s * q[p "b"] + q[p "offset"]; P -= w * s * (c - r); S -= w * s * d * d
    g += w * s * (q["instrument_" j "_g"] * d + q[p "e"])
    sd[j] += w * s * d; length_ += w * d; d2 += w * d * d; d4 += w * d ^ 4
    rb += w * q[p "bound"]
    sample(w * q[p "u"], w * q[p "bound"], q[p "freedom"])
    ru += (w * q[p "u"]) ^ 2
    A[d] += w * s * (q["instrument_" j "_g"] - k * d / R0); b[d] += w * s * d
  }
  span = S
  for (j = 0; j < m; j++) { L -= sd[j]; span += q["instrument_" j "_pegs"] * sd[j]; P += q["instrument_" j "_pegs"] * sd[j] / (2 * R) }
  same("P", P); same("S", S); same("end", q["start"] + sb)
  same("misclosure", q["end"] - q["known_end"]); same("length", length_)
  same("corrected", q["misclosure"] + P - g)
  if (q["kind"] != "crossing") { closing(); exit }
  # without all distances there is no drop to reckon
  if (q["S_prime"] == "") { print checked + 0 " numbers, " bad + 0 " differ: no answer, a distance is missing"; exit }
  for (i = 1; ("water_" i "_h") in q; i++) { h[q["water_" i "_station"]] += q["water_" i "_h"]; hn[q["water_" i "_station"]]++ }
  e = q["sight_1_station"]; f = q["sight_" n "_station"]; if (hn[e] && hn[f]) same("known_end", q["start"] + h[f] / hn[f] - h[e] / hn[e])
  D = g - q["misclosure"]; F = -k * S / (2 * R0); C = D - F; same("D", D); same("F", F); same("C", C); same("S_prime", span)
  for (j = 0; j < m; j++) {
    p = "instrument_" j "_"; tilt = q[p "test_counts"] ? q[p "u"] : q[p "tolerance"] / sqrt(3)
    limit = q[p "test_counts"] ? (q[p "sets"] > 1 ? max(2, t95(q[p "sets"] - 1)) : 2) * q[p "u"] : q[p "tolerance"]
    ib += limit * abs(sd[j]); iu += (tilt * sd[j]) ^ 2
    if (q[p "test_counts"]) sample(tilt * abs(sd[j]), limit * abs(sd[j]), q[p "sets"] - 1)
    drift += 2 * q["drift"] * abs(sd[j]); driftu += (q["drift"] * sd[j]) ^ 2
  }
  air = max(abs(S), sqrt(d4)) / (2 * R0)
  if (q["air_common"] != "") air = sqrt(q["air_common"] * S ^ 2 + (1 - q["air_common"]) * d4) / (2 * R0)
  for (i = 1; i <= dn; i++) { db += x = q["declared_" i "_bound"] + q["declared_" i "_slope"] * abs(L); du += x ^ 2 / 3 }
  if (q["water_counts"]) {
    flat(q["water"]); flat(q["flow"] * length_); if (q["depth"] > 0) flat(1.6e-7 * q["wind"] ^ 2 * length_ / q["depth"])
    for (i = 0; i < 2; i++) { e = i ? "water_end_" : "water_start_"; if (q[e "v"] > 0) flat(q["water_floor"]); wb += q[e "bound"]; wu += q[e "v"] ^ 2; sample(q[e "v"], q[e "bound"], q[e "freedom"]) }
  }
  kb = 2 * (q["known_start_u"] + q["known_end_u"]); ku = q["known_start_u"] ^ 2 + q["known_end_u"] ^ 2
  for (i = 1; i <= lengths; i++) {
    p = "length_" i "_"; d = q[p "d"]; lu[i] = q[p "u"]; la[i] = A[d]; lb[i] = b[d]
    near(p "a", la[i], 1e-14); same(p "b", lb[i])
  }
  Brest = ib + rb + db + wb + kb + drift; u2rest = iu + ru + du + wu + ku + driftu
  same("bound_instrument", ib); same("u_instrument", sqrt(iu)); same("bound_reading", rb); same("u_reading", sqrt(ru))
  same("bound_refraction", dk(0) * d2 / (2 * R0)); same("u_refraction", dk(0) / 2 * air); same("bound_declared", db); same("u_declared", sqrt(du))
  same("bound_water", wb); same("u_water", sqrt(wu)); same("bound_known", kb); same("u_known", sqrt(ku)); same("bound_drift", drift); same("u_drift", sqrt(driftu))
  same("bound_distance", distances(0, 1)); same("u_distance", sqrt(distances(0, 2)))
  u2 = u2rest + (dk(0) / 2 * air) ^ 2 + distances(0, 2); freedom = fourth ? u2 ^ 2 / fourth : 0; t = freedom ? max(2, t95(freedom)) : 2
  same("u", sqrt(u2)); same("freedom", freedom); same("B", everything(0)); same("U", min(max(t * sqrt(u2), largest), everything(0)))
  turn = span < 0 ? -1 : 1; same("margin", C * turn - total(0))
  if (q["answer"] == "none") { print checked + 0 " numbers, " bad + 0 " differ: no answer, " q["no_answer"]; exit }
  low = side(-1 / R); high = side(1 / R)
  by = 1e-10 / R; near("inverse_radius_low", low, by + 1e-11 * abs(low)); near("inverse_radius", 2 * C / span, by); near("inverse_radius_high", high, by + 1e-11 * abs(high))
  fits = low <= 1 / R && 1 / R <= high
  answer = high < 0 ? "opposite" : low > 0 ? (fits ? "shown-compatible" : "shown-incompatible") : fits ? "not-separated" : "none-shown"
  if (answer != q["answer"]) { print "answer", q["answer"], answer; bad++ }
  print checked + 0 " numbers, " bad + 0 " differ: " answer
}
