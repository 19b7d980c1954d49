namespace Incubation.Service.People;

/// <summary>Who is looking, and at which facility.</summary>
/// <param name="State">"unclaimed", "signed out" or "signed in".</param>
/// <param name="Name">Who is signed in, or null.</param>
/// <param name="Role">"owner", "keeper" or "viewer", or null.</param>
/// <param name="Demo">Whether this is the invented facility of the demo.</param>
/// <param name="Facility">What the place is called.</param>
/// <param name="Zone">Its IANA time zone.</param>
internal sealed record SessionView(string State, string? Name, string? Role, bool Demo, string Facility, string Zone);

/// <summary>Claims the facility for its first owner.</summary>
/// <param name="Code">The one-time code from the log.</param>
/// <param name="Name">What the owner is called; messages and the journal use it.</param>
/// <param name="Password">At least ten characters.</param>
internal sealed record ClaimRequest(string Code, string Name, string Password);

/// <summary>Signs a person in.</summary>
internal sealed record SignInRequest(string Name, string Password);
