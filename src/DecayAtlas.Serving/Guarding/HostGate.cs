using System.Net;

namespace DecayAtlas.Serving.Guarding;

/// <summary>Answers only under names that are the server's own. A page from anywhere can give its own name the address of this machine (DNS
/// rebinding) and would then read the answers as its own; the name it came by still stands in the request, and is not ours.</summary>
internal sealed class HostGate(ServingOptions options)
{
    private readonly string? _publicHost = options.PublicUrl?.IdnHost;

    // a name for the machine is only of use where it is reached from elsewhere
    private readonly string? _machine = IPAddress.IsLoopback(options.Address) ? null : Dns.GetHostName();

    private readonly bool _isEverywhere = options.Address.Equals(IPAddress.Any) || options.Address.Equals(IPAddress.IPv6Any);

    public Task RunAsync(HttpContext http, RequestDelegate next)
    {
        string host = http.Request.Host.Host;
        return IsOurs(host) ? next(http) : Problem.WriteAsync(http, Status400BadRequest,
            $"This server does not answer under the name '{(host.Length > 100 ? host[..100] : host)}'; use its address, or start it "
            + "with --public-url where it is reached by another name.");
    }

    internal bool IsOurs(string host)
    {
        if (host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || Same(host, _publicHost) || Same(host, _machine))
            return true;
        // an address in numbers belongs to nobody's name
        return IPAddress.TryParse(host, out IPAddress? address)
            && (_isEverywhere || address.Equals(options.Address) || IPAddress.IsLoopback(address));
    }

    private static bool Same(string host, string? ours) => ours is not null && host.Equals(ours, StringComparison.OrdinalIgnoreCase);
}
