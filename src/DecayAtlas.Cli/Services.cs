using Spectre.Console.Cli;

namespace DecayAtlas.Cli;

/// <summary>Hands commands the screen; they have no other service. Beyond that it keeps what the command library registers.</summary>
internal sealed class Services : ITypeRegistrar, ITypeResolver
{
    private readonly Dictionary<Type, List<Func<object?>>> _made = [];
    private readonly Screen _screen;

    public Services(Screen screen)
    {
        _screen = screen;
        RegisterInstance(typeof(Screen), screen);
    }

    public void Register(Type service, Type implementation) => Add(service, () => Make(implementation));

    public void RegisterInstance(Type service, object implementation) => Add(service, () => implementation);

    public void RegisterLazy(Type service, Func<object> factory) => Add(service, factory);

    public ITypeResolver Build() => this;

    public object? Resolve(Type? type)
    {
        if (type is null)
            return null;
        if (_made.TryGetValue(type, out List<Func<object?>>? makers))
            return makers[^1]();
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IEnumerable<>))
            return All(type.GetGenericArguments()[0]);
        return type is { IsAbstract: false, IsInterface: false } ? Make(type) : null;
    }

    private Array All(Type service)
    {
        object?[] made = [.. _made.GetValueOrDefault(service, []).Select(make => make())];
        Array typed = Array.CreateInstance(service, made.Length);
        made.CopyTo(typed, 0);
        return typed;
    }

    private void Add(Type service, Func<object?> make)
    {
        if (!_made.TryGetValue(service, out List<Func<object?>>? makers))
            _made[service] = makers = [];
        makers.Add(make);
    }

    private object? Make(Type type) =>
        type.GetConstructor([typeof(Screen)]) is { } withScreen ? withScreen.Invoke([_screen]) : Activator.CreateInstance(type);
}
