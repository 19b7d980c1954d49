namespace Incubation.Service.Hosting;

/// <summary>Which verb the service was started with, and what that verb allows.</summary>
/// <param name="Demo">The invented facility: signs in by itself on loopback, and never listens beyond this machine.</param>
/// <param name="AllowTestSettings">Settings under <c>Incubation:Test</c> are obeyed; for tests that must show a loss.</param>
/// <param name="Furnished">In the demo: whether the invented incubators, probes and clutches move in. Tests want an empty house.</param>
internal sealed record RunMode(bool Demo = false, bool AllowTestSettings = false, bool Furnished = true);
