namespace DecayAtlas.Grids.Remote;

/// <summary>From where grids may be read over the network, and what that may cost.</summary>
public sealed record RemoteOptions
{
    [Setting("hosts", "a list of host names, each once",
        "Hosts that a catalogue may name in file: https://...; without one nothing is read over the network",
        Item = "a host name, as data.example.org, with its port where that is not the usual one")]
    public IReadOnlyList<string> Hosts { get; init; } = [];

    /// <summary>One that is no host name, so that no address could ever be of it; <see langword="null"/> where all are.</summary>
    public string? NoHost => Hosts.FirstOrDefault(host => !RemoteAddress.IsHost(host));

    [Setting("seconds", "seconds, above 0 and at most 600", "Longest wait for the whole answer to one request", Above = 0, Most = 600)]
    public double Seconds { get; init; } = 30;

    [Setting("megabytes", "megabytes, above 0", "Most that one run or command fetches; what is in the cache costs nothing", Above = 0)]
    public double Megabytes { get; init; } = 500;

    [Setting("retries", "a whole number, 0 to 10", "How often a request is made again that found no answer, half of one or a busy host",
        Least = 0, Most = 10)]
    public int Retries { get; init; } = 3;
}
