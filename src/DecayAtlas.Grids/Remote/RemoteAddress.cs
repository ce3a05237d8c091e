using System.Net;

namespace DecayAtlas.Grids.Remote;

/// <summary>A file named by an address in place of a path.</summary>
internal static class RemoteAddress
{
    public static bool Is(string path) =>
        path.StartsWith("https://", StringComparison.OrdinalIgnoreCase) || path.StartsWith("http://", StringComparison.OrdinalIgnoreCase);

    /// <summary>What is wrong with an address, whoever may read it; <see langword="null"/> for nothing.</summary>
    public static string? FaultOf(string address)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out Uri? uri) || uri.Host.Length == 0)
            return "is no address; https://host/path.tif was expected.";
        if (uri.UserInfo.Length > 0)
        {
            return "holds a user name or password, which everybody who reads the catalogue would see; name a file that can be read "
                + "without.";
        }

        if (uri.Query.Length > 0 || uri.Fragment.Length > 0 || address.AsSpan().ContainsAny("*?{}"))
        {
            return "holds more than a path (a query may be a key, and patterns of tiles are for disks); the plain address of one file was "
                + "expected.";
        }

        return uri.Scheme == Uri.UriSchemeHttps || IsThisMachine(uri) ? null
            : "is read without encryption, so that anybody between could change it; write https://.";
    }

    /// <summary>Whether an address can be of it: a host name as addresses have it, with its port where that is not the usual one.</summary>
    public static bool IsHost(string host) => Uri.TryCreate($"https://{host}/", UriKind.Absolute, out Uri? uri)
        && uri.Authority.Equals(host, StringComparison.OrdinalIgnoreCase);

    public static Uri Checked(string address, RemoteOptions options)
    {
        if (FaultOf(address) is { } fault)
            throw new GridException($"{WithoutSecrets(address)} {fault}");
        Uri uri = new(address);
        return options.Hosts.Contains(uri.Authority, StringComparer.OrdinalIgnoreCase) ? uri
            : throw new GridException($"{address} lies on a host that the configuration doesn't list; if it may be read, add "
                + $"{uri.Authority} to remote.hosts, or fetch the file and name it by its path.");
    }

    /// <summary>An address as it may be printed.</summary>
    public static string WithoutSecrets(string address) => Uri.TryCreate(address, UriKind.Absolute, out Uri? uri)
        ? uri.GetComponents(UriComponents.SchemeAndServer | UriComponents.Path, UriFormat.UriEscaped)
        : "The address";

    private static bool IsThisMachine(Uri uri) =>
        IPAddress.TryParse(uri.Host.Trim('[', ']'), out IPAddress? ip) && IPAddress.IsLoopback(ip);
}
