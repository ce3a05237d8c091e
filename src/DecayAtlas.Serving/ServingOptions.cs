using System.Net;

namespace DecayAtlas.Serving;

/// <summary>Where the server listens, and what it says of where it is reached.</summary>
/// <param name="Address">The address that is bound; loopback unless somebody decides otherwise.</param>
/// <param name="Port">The port; 0 takes any free one.</param>
/// <param name="PublicUrl">Where readers reach the server through a proxy, for the links in its answers; missing where they reach it directly.</param>
public sealed record ServingOptions(IPAddress Address, int Port, Uri? PublicUrl = null);
