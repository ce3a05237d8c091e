using System.ComponentModel;
using System.Net;
using Microsoft.Extensions.Hosting;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Serves the current release over HTTP until it is told to end.</summary>
internal sealed class ServeCommand(Screen screen) : Command<ServeCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("Pipeline configuration (YAML).")]
        public required string File { get; init; }

        [CommandOption("--address <IP>")]
        [Description("The address of this machine that is listened at; 127.0.0.1 unless stated, which only this machine reaches.")]
        public string? Address { get; init; }

        [CommandOption("--port <N>")]
        [Description("The port; 4717 unless stated, 0 takes any free one.")]
        public int Port { get; init; } = ServingOptions.UsualPort;

        [CommandOption("--public-url <URL>")]
        [Description("Where readers reach the server through a proxy, for example https://soil.example/atlas/.")]
        public string? PublicUrl { get; init; }

        [CommandOption("--allow-origin <ORIGIN>")]
        [Description(
            "A site whose pages may read the answers in a browser, for example https://maps.example, or * for all; none unless stated.")]
        public string? AllowOrigin { get; init; }

        [CommandOption("--only-current")]
        [Description(
            "Hand out no older releases, which hold what was published then, also of sites that were marked sensitive only later.")]
        public bool OnlyCurrent { get; init; }

        [CommandOption("--log-requests")]
        [Description("Print a line for each request, without its query.")]
        public bool LogRequests { get; init; }

        [CommandOption("--json")]
        [Description("Print start, requests, news, troubles and stop as JSON, one object a line.")]
        public bool Json { get; init; }
    }

    // below one of these a proxy that takes the path off, and one that does not, could not be told apart
    private static readonly string[] OwnPaths = ["/releases", "/api", "/predict", "/health"];

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellationToken)
    {
        ServingOptions options = OptionsOf(settings);
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        ServedAtlas atlas = new(configuration.Atlas);
        ServingLines log = new(screen, settings.Json, settings.LogRequests);
        ServedModel model = new(configuration.Atlas, configuration.Grids, configuration.Conditions, configuration.Remote,
            configuration.Choices);
        using Microsoft.AspNetCore.Builder.WebApplication app = AtlasServer.Build(atlas, options, model, log);
        ListeningException.Guard(options, () => app.StartAsync(cancellationToken).GetAwaiter().GetResult());
        log.Started(new Uri(app.Urls.First()), options, $"{atlas.Current.Name}", model.Current?.Model.Card.ModelId, configuration.Atlas);
        app.WaitForShutdownAsync(cancellationToken).GetAwaiter().GetResult();
        log.Stopped();
        return RecordedRun.Done;
    }

    private static ServingOptions OptionsOf(Settings settings)
    {
        IPAddress? address = settings.Address is null ? IPAddress.Loopback
            : IPAddress.TryParse(settings.Address, out IPAddress? read) ? read : null;
        if (address is null)
        {
            throw new ConfigurationException($"--address {settings.Address} is no IP address; expected for example 127.0.0.1, ::1, or "
                + "0.0.0.0 for all addresses of this machine.");
        }

        if (settings.Port is < 0 or > IPEndPoint.MaxPort)
            throw new ConfigurationException($"--port {settings.Port} is no port; expected 0 to {IPEndPoint.MaxPort}.");

        return new ServingOptions(address, settings.Port, PublicUrlOf(settings.PublicUrl))
        { AllowedOrigin = OriginOf(settings.AllowOrigin), ServesOnlyCurrent = settings.OnlyCurrent };
    }

    private static Uri? PublicUrlOf(string? text)
    {
        if (text is null)
            return null;
        if (SiteOf(text) is not { Query: "", Fragment: "", UserInfo: "" } url)
        {
            throw new ConfigurationException($"--public-url {text} is no address of a site; expected for example "
                + "https://soil.example/atlas/, without query.");
        }

        return !OwnPaths.Contains(url.AbsolutePath.TrimEnd('/')) ? url
            : throw new ConfigurationException($"--public-url {text} ends with a path that the server itself has; put it under "
                + "another, for example https://soil.example/atlas/.");
    }

    private static string? OriginOf(string? text) =>
        text is null or "*" || SiteOf(text)?.GetLeftPart(UriPartial.Authority) == text ? text
            : throw new ConfigurationException($"--allow-origin {text} is no origin; expected for example https://maps.example, "
                + "without a path, or *.");

    private static Uri? SiteOf(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out Uri? url) && url.Scheme is "http" or "https" ? url : null;
}
