namespace Incubation.Service.Broker;

/// <summary>Why there is no connection to the external broker.</summary>
internal enum LossKind
{
    /// <summary>It closed the connection, or the network did.</summary>
    Closed,

    /// <summary>Nothing answers at its address.</summary>
    Unreachable,

    /// <summary>It looks connected, but a ping or our own message does not come back.</summary>
    Silent,

    /// <summary>It does not let us in, or its certificate is not believed: a person must mend that.</summary>
    Refused,

    /// <summary>Somebody else signed in under our client id.</summary>
    TakenOver,
}

/// <param name="Kind">What kind of loss; the back-off goes by it.</param>
/// <param name="Words">Cause and fix, for people.</param>
internal sealed record BrokerLoss(LossKind Kind, string Words);
