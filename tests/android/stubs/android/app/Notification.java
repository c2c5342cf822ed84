package android.app;

import android.content.Context;

public class Notification {
    public CharSequence title;
    public CharSequence text;
    public String channel;
    public PendingIntent opens;

    public abstract static class Style {}

    public static class BigTextStyle extends Style {
        public BigTextStyle bigText(CharSequence text) {
            return this;
        }
    }

    public static class Builder {
        private final Notification made = new Notification();
        private boolean icon;

        public Builder(Context context, String channel) {
            made.channel = channel;
        }

        public Builder setSmallIcon(int id) {
            icon = id != 0;
            return this;
        }

        public Builder setContentTitle(CharSequence title) {
            made.title = title;
            return this;
        }

        public Builder setContentText(CharSequence text) {
            made.text = text;
            return this;
        }

        public Builder setStyle(Style style) {
            return this;
        }

        public Builder setContentIntent(PendingIntent intent) {
            made.opens = intent;
            return this;
        }

        public Builder setAutoCancel(boolean auto) {
            return this;
        }

        public Notification build() {
            if (!icon) {
                throw new IllegalArgumentException("Invalid notification (no valid small icon)");
            }
            return made;
        }
    }
}
