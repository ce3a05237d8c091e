using System.Text.Json;
using System.Text.Json.Serialization;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>How values of a cache become bytes and come back, every number exactly.</summary>
/// <param name="Version">Another version's bytes are not read.</param>
/// <param name="Read">From the name of a value and its bytes.</param>
internal sealed record CacheFormat<T>(string Version, Action<Stream, T> Write, Func<string, byte[], T?> Read)
    where T : class
{
    /// <summary>Raised when what is kept as JSON changes its shape.</summary>
    private const string JsonVersion = "2";

    private static readonly JsonSerializerOptions Options = new(JsonText.Options)
    {
        WriteIndented = false,
        // what another program left out is not there, and never a default
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        IgnoreReadOnlyProperties = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Converters = { new OneCopyOfAText() },
    };

    public static CacheFormat<T> Json { get; } = new(
        JsonVersion,
        (stream, value) => JsonSerializer.Serialize(stream, value, Options),
        (_, bytes) =>
        {
            OneCopyOfAText.Forget();
            return JsonSerializer.Deserialize<T>(bytes, Options);
        });
}

/// <summary>Equal texts of one value once: a thousand burials name one contribution.</summary>
internal sealed class OneCopyOfAText : JsonConverter<string>
{
    [ThreadStatic]
    private static TextPool? _pool;

    public static void Forget() => _pool = new TextPool();

    public override string Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        _pool!.Of(reader.GetString()!);

    public override void Write(Utf8JsonWriter writer, string value, JsonSerializerOptions options) => writer.WriteStringValue(value);

    // keys of dictionaries come once anyhow
    public override string ReadAsPropertyName(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetString()!;

    public override void WriteAsPropertyName(Utf8JsonWriter writer, string value, JsonSerializerOptions options) =>
        writer.WritePropertyName(value);
}
